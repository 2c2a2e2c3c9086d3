#pragma once
// Rows with named columns, for spreadsheets and for programs: the same rows as CSV, JSON or a sheet of a workbook.
#include <string>
#include <vector>

namespace jambcheck::papers {

struct Column {
  std::string name;     ///< with its unit: width_in
  bool number = false;  ///< its cells are numbers, or empty
};

struct Grid {
  std::string name;  ///< of the sheet
  std::vector<Column> columns;
  std::vector<std::vector<std::string>> rows;
};

/// No cell is run as a formula.
std::string as_csv(const Grid& grid);

/// {"format": ..., "openings": [{column: value}, ...]}, a list for each grid by its name. Empty cells of numbers are null.
std::string as_json(const std::string& format, const std::string& file, const std::vector<Grid>& grids);

}  // namespace jambcheck::papers
