#include "papers/sheets.h"

#include <xlsxwriter.h>

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

}  // namespace

std::string workbook(const std::vector<Sheet>& sheets) {
  const Scratch scratch;
  lxw_workbook* book = workbook_new(scratch.file().c_str());
  if (!book) throw std::runtime_error("the workbook can't be made");
  lxw_doc_properties properties{};
  properties.created = 946684800;  // a fixed day: no clock is asked
  workbook_set_properties(book, &properties);
  lxw_format* bold = workbook_add_format(book);
  format_set_bold(bold);
  for (const auto& [name, rows] : sheets) {
    lxw_worksheet* sheet = workbook_add_worksheet(book, name.c_str());
    for (std::size_t r = 0; r < rows.size(); ++r)
      for (std::size_t c = 0; c < rows[r].size(); ++c) {
        const auto row = static_cast<lxw_row_t>(r);
        const auto column = static_cast<lxw_col_t>(c);
        const auto number = r == 0 ? std::nullopt : text::parse_number(rows[r][c]);
        if (number) worksheet_write_number(sheet, row, column, *number, nullptr);
        else if (!rows[r][c].empty()) worksheet_write_string(sheet, row, column, rows[r][c].c_str(), r == 0 ? bold : nullptr);
      }
    worksheet_freeze_panes(sheet, 1, 1);
  }
  if (const lxw_error error = workbook_close(book); error != LXW_NO_ERROR) throw std::runtime_error(std::string("the workbook can't be made: ") + lxw_strerror(error));
  std::ifstream in(scratch.file(), std::ios::binary);
  std::ostringstream content;
  content << in.rdbuf();
  return content.str();
}

}  // namespace jambcheck::papers
