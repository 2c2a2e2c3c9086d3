#include "papers/grid.h"

#include <nlohmann/json.hpp>

#include "csv/csv.h"
#include "text/number.h"

namespace jambcheck::papers {
namespace {

using json = nlohmann::ordered_json;

json value_of(const Column& column, const std::string& cell) {
  if (!column.number) return cell;
  const auto number = text::parse_number(cell);
  return number ? json(*number) : cell.empty() ? json(nullptr) : json(cell);
}

json rows_of(const Grid& grid) {
  json out = json::array();
  for (const auto& row : grid.rows) {
    json one = json::object();
    for (std::size_t c = 0; c < row.size() && c < grid.columns.size(); ++c) one[grid.columns[c].name] = value_of(grid.columns[c], row[c]);
    out.push_back(std::move(one));
  }
  return out;
}

}  // namespace

std::string as_csv(const Grid& grid) {
  std::vector<std::string> head;
  for (const auto& column : grid.columns) head.push_back(column.name);
  std::string out = csv::write_row(head);
  for (const auto& row : grid.rows) out += csv::write_row(row);
  return out;
}

std::string as_json(const std::string& format, const std::string& file, const std::vector<Grid>& grids) {
  json out = {{"format", format}, {"program", "jambcheck " JAMBCHECK_VERSION}, {"file", file}};
  for (const auto& grid : grids) out[grid.name] = rows_of(grid);
  return out.dump(1, ' ', false, json::error_handler_t::replace) + "\n";
}

}  // namespace jambcheck::papers
