#include "papers/sheets.h"

#include <xlsxwriter.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "text/number.h"

namespace jambcheck::papers {
namespace {

/// A folder that goes when this goes; the library writes files only.
class Scratch {
 public:
  Scratch() {
    std::string name = (std::filesystem::temp_directory_path() / "jambcheck-XXXXXX").string();
    if (!mkdtemp(name.data())) throw std::runtime_error("no folder for temporary files");
    path_ = name;
  }
  ~Scratch() {
    std::error_code error;
    std::filesystem::remove_all(path_, error);
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  [[nodiscard]] std::string file() const { return (path_ / "book.xlsx").string(); }

 private:
  std::filesystem::path path_;
};

/// As wide as what stands in it, within bounds.
double width_of(const Grid& grid, std::size_t column) {
  std::size_t most = grid.columns[column].name.size() + 2;
  for (const auto& row : grid.rows)
    if (column < row.size()) most = std::max(most, row[column].size());
  return static_cast<double>(std::clamp<std::size_t>(most, 6, 36)) + 1;
}

struct Formats {
  lxw_format* head;
  lxw_format* text;
};

void fill(lxw_worksheet* sheet, const Grid& grid, const Formats& formats) {
  for (std::size_t c = 0; c < grid.columns.size(); ++c) {
    const auto column = static_cast<lxw_col_t>(c);
    worksheet_set_column(sheet, column, column, width_of(grid, c), nullptr);
    worksheet_write_string(sheet, 0, column, grid.columns[c].name.c_str(), formats.head);
  }
  for (std::size_t r = 0; r < grid.rows.size(); ++r)
    for (std::size_t c = 0; c < grid.rows[r].size() && c < grid.columns.size(); ++c) {
      const std::string& cell = grid.rows[r][c];
      const auto row = static_cast<lxw_row_t>(r + 1);
      const auto column = static_cast<lxw_col_t>(c);
      const auto number = grid.columns[c].number ? text::parse_number(cell) : std::nullopt;
      if (number) worksheet_write_number(sheet, row, column, *number, nullptr);
      else if (!cell.empty()) worksheet_write_string(sheet, row, column, cell.c_str(), formats.text);
    }
}

void set_up_print(lxw_worksheet* sheet, const Grid& grid, bool a4) {
  constexpr std::uint8_t kLetter = 1, kA4 = 9;  // as the file format numbers them
  worksheet_freeze_panes(sheet, 1, 1);
  worksheet_set_landscape(sheet);
  worksheet_set_paper(sheet, a4 ? kA4 : kLetter);
  double wide = 0;
  for (std::size_t c = 0; c < grid.columns.size(); ++c) wide += width_of(grid, c);
  constexpr double kReadable = 190;  // widths of a letter that fit across before print gets too small
  worksheet_fit_to_pages(sheet, static_cast<std::uint16_t>(std::ceil(wide / kReadable)), 0);
  worksheet_repeat_rows(sheet, 0, 0);
  worksheet_repeat_columns(sheet, 0, 0);
  worksheet_set_footer(sheet, ("&L" + grid.name + "  -  a calculation aid, not an approval&Rpage &P of &N").c_str());
  if (!grid.rows.empty()) worksheet_autofilter(sheet, 0, 0, static_cast<lxw_row_t>(grid.rows.size()), static_cast<lxw_col_t>(grid.columns.size() - 1));
}

}  // namespace

std::string workbook(const std::vector<Grid>& grids, bool a4) {
  const Scratch scratch;
  lxw_workbook* book = workbook_new(scratch.file().c_str());
  if (!book) throw std::runtime_error("the workbook can't be made");
  lxw_doc_properties properties{};
  properties.created = 946684800;  // a fixed day: no clock is asked
  workbook_set_properties(book, &properties);
  const Formats formats{workbook_add_format(book), workbook_add_format(book)};
  format_set_bold(formats.head);
  format_set_text_wrap(formats.head);
  format_set_text_wrap(formats.text);
  format_set_align(formats.text, LXW_ALIGN_VERTICAL_TOP);
  for (const auto& grid : grids) {
    lxw_worksheet* sheet = workbook_add_worksheet(book, grid.name.c_str());
    if (!sheet) throw std::runtime_error("the workbook can't be made: no sheet can be called " + grid.name);
    fill(sheet, grid, formats);
    set_up_print(sheet, grid, a4);
  }
  if (const lxw_error error = workbook_close(book); error != LXW_NO_ERROR) throw std::runtime_error(std::string("the workbook can't be made: ") + lxw_strerror(error));
  std::ifstream in(scratch.file(), std::ios::binary);
  std::ostringstream content;
  content << in.rdbuf();
  return content.str();
}

}  // namespace jambcheck::papers
