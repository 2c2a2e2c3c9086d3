// `jambcheck limits`: how much wind, width and weight an opening takes, over one or two fields.
#include "choose/limits.h"

#include <algorithm>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/project.h"
#include "csv/csv.h"
#include "text/number.h"
#include "text/suggest.h"
#include "units/quantity.h"

namespace jambcheck::cli {
namespace {

using choose::Axis;
using choose::Limit;
using choose::LimitTable;
using json = nlohmann::ordered_json;

double in_unit(const Axis& axis, double value) { return units::parse_unit(axis.unit)->from_canonical(value); }

std::string value_text(const Axis& axis, double value) {
  if (axis.unit == "in") return units::tape_inches(value);
  return text::rounded(in_unit(axis, value), 6) + " " + std::string(axis.unit);
}

std::string limit_text(const Axis& axis, const Limit& limit) {
  if (limit.kind == Limit::Kind::none) return "never";
  const std::string end = (limit.kind == Limit::Kind::beyond ? (axis.falls ? "<= " : ">= ") : "") + value_text(axis, limit.value);
  if (!limit.bounded) return end;
  return axis.falls ? end + " to " + value_text(axis, limit.inner) : value_text(axis, limit.inner) + " to " + end;
}

std::string heading(const Axis& axis) { return (axis.falls ? "least " : "most ") + std::string(axis.name); }

std::string text_of(const std::string& mark, const LimitTable& table) {
  std::string out = fmt::format("{}: the last step at which the whole opening holds, everything else as given. Every step in between was tried on the checks.\n", mark);
  std::string line;
  for (const Axis* axis : table.over) line += fmt::format("  {:>16}", axis->name);
  for (const Axis* axis : table.of) line += fmt::format("  {:>20}", heading(*axis));
  out += line + "\n";
  for (const auto& row : table.rows) {
    line.clear();
    for (std::size_t i = 0; i < row.at.size(); ++i) line += fmt::format("  {:>16}", value_text(*table.over[i], row.at[i]));
    for (std::size_t k = 0; k < row.limits.size(); ++k) line += fmt::format("  {:>20}", limit_text(*table.of[k], row.limits[k]));
    out += line + "\n";
  }
  return out + "never: holds at no step tried. >= and <=: it still holds at the last step tried. A to B: it holds from A to B only, the step beyond either end does not.\n";
}

std::string csv_of(const LimitTable& table) {
  std::vector<std::string> cells;
  for (const Axis* axis : table.over) cells.push_back(fmt::format("{} ({})", axis->name, axis->unit));
  for (const Axis* axis : table.of)
    for (const char* what : {"", " kind", " other end", " stopped by"}) cells.push_back(what[0] ? std::string(axis->name) + what : fmt::format("{} ({})", heading(*axis), axis->unit));
  std::string out = csv::write_row(cells);
  for (const auto& row : table.rows) {
    cells.clear();
    for (std::size_t i = 0; i < row.at.size(); ++i) cells.push_back(text::rounded(in_unit(*table.over[i], row.at[i]), 6));
    for (std::size_t k = 0; k < row.limits.size(); ++k) {
      const Limit& limit = row.limits[k];
      cells.push_back(limit.kind == Limit::Kind::none ? "" : text::rounded(in_unit(*table.of[k], limit.value), 6));
      cells.push_back(limit.kind == Limit::Kind::none ? "never" : limit.kind == Limit::Kind::beyond ? "beyond" : "at");
      cells.push_back(limit.kind == Limit::Kind::none || !limit.bounded ? "" : text::rounded(in_unit(*table.of[k], limit.inner), 6));
      cells.push_back(limit.stops);
    }
    out += csv::write_row(cells);
  }
  return out;
}

std::string json_of(const std::string& mark, const LimitTable& table) {
  json rows = json::array();
  for (const auto& row : table.rows) {
    json at = json::object(), limits = json::object();
    for (std::size_t i = 0; i < row.at.size(); ++i) at[std::string(table.over[i]->name)] = {{"value", in_unit(*table.over[i], row.at[i])}, {"unit", table.over[i]->unit}};
    for (std::size_t k = 0; k < row.limits.size(); ++k) {
      const Limit& limit = row.limits[k];
      const char* kind = limit.kind == Limit::Kind::none ? "never" : limit.kind == Limit::Kind::beyond ? "beyond" : "at";
      limits[std::string(table.of[k]->name)] = {{"value", limit.kind == Limit::Kind::none ? json(nullptr) : json(in_unit(*table.of[k], limit.value))}, {"unit", table.of[k]->unit}, {"kind", kind}, {"stopped_by", limit.stops}};
      if (limit.bounded) limits[std::string(table.of[k]->name)]["other_end"] = in_unit(*table.of[k], limit.inner);
    }
    rows.push_back({{"at", at}, {"limits", limits}});
  }
  return json{{"format", "limits/1"}, {"mark", mark}, {"rows", rows}}.dump(2) + "\n";
}

/// The fields named; reports those that can't be moved, or that the file does not give.
bool axes(Context& context, const opening::Project& project, const opening::Opening& opening, const std::vector<std::string>& names, std::vector<const Axis*>& out) {
  text::Diagnostics diagnostics;
  for (const auto& name : names) {
    const Axis* axis = choose::find_axis(name);
    if (!axis) diagnostics.add(text::MessageId::L033, {}, {name, text::suggestion(name, choose::axis_names())});
    else if (!choose::has_axis(project, opening, *axis)) diagnostics.add(text::MessageId::L034, {}, {name, opening.mark});
    else out.push_back(axis);
  }
  context.report(diagnostics);
  return !diagnostics.has_errors();
}

}  // namespace

Exit run_limits(Context& context, const LimitsArguments& arguments) {
  const auto one = load_opening(context, arguments.file, arguments.mark);
  if (!one) return one.problem;
  const auto* set = one.set;
  const auto& project = one.project;
  const opening::Opening* opening = one.opening;
  std::vector<const Axis*> over, of;
  if (!axes(context, *project, *opening, arguments.over, over)) return Exit::usage;
  auto wanted = arguments.of;
  if (wanted.empty())
    for (const auto& name : choose::usual_limits(*project, *opening))
      if (std::find(arguments.over.begin(), arguments.over.end(), name) == arguments.over.end()) wanted.push_back(name);
  if (!axes(context, *project, *opening, wanted, of)) return Exit::usage;
  verdict::Checker checker(*set);
  const auto table = choose::limits(checker, *set, *project, *opening, over, of, context.options().jobs);
  if (context.options().json) return context.write(json_of(arguments.mark, table));
  return context.write(arguments.csv ? csv_of(table) : text_of(arguments.mark, table));
}

}  // namespace jambcheck::cli
