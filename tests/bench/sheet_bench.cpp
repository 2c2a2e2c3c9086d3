// Forty formulas of the shipped rules, run here and handed to a spreadsheet and to numpy by sheet_bench.py, which starts
// this program. Argument: a folder for  formulas.py, sheet.fods, inputs.csv, results.csv . Prints its time a row in ns.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <random>

#include <fmt/format.h>

#include "dialects.h"
#include "rules/plan.h"
#include "support/built_in.h"

namespace {

using namespace jambcheck;
using rules::Rule;

constexpr std::size_t kFormulas = 40;
constexpr std::size_t kRows = 5000;
constexpr int kRounds = 25;

struct Line {
  const Rule* rule;
  const rules::Step* step;
};

/// The rules whose steps can be said elsewhere, and the columns they share.
class Selection {
 public:
  std::vector<const Rule*> rules;
  std::vector<Line> lines;
  std::map<std::string, std::pair<double, double>> inputs;  ///< key -> range of its values

  void fill() {
    for (const auto& rule : test::built_in().rules())
      if (lines.size() < kFormulas) take(*rule);
  }
  std::string name(const Line& line, const expr::Node& node, bench::Dialect dialect, std::size_t row) const {
    if (const auto* constant = line.rule->constant(node.text)) return fmt::format("{:.17g}", constant->value);
    const std::size_t column = column_of(line, node.text);
    return dialect == bench::Dialect::numpy ? fmt::format("c[{}]", column) : fmt::format("[.{}{}]", letters(column), row + 1);
  }

 private:
  void take(const Rule& rule) {
    if (rule.solver || !rule.tables.empty() || rule.steps.size() < 3 || !numbers_only(rule) || !finite(rule)) return;
    auto wider = inputs;
    for (const auto& input : rule.inputs) {
      auto& range = wider.try_emplace(input.key, 0.0, 1e5).first->second;
      const double lo = input.range ? input.range->lo : 0.5, hi = input.range ? std::min(input.range->hi, lo + 1000) : 2;
      range = {std::max(range.first, lo), std::min(range.second, hi)};
      if (range.first >= range.second) return;
    }
    inputs = wider;
    rules.push_back(&rule);
    for (const auto& step : rule.steps)
      if (lines.size() < kFormulas) lines.push_back({&rule, &step});
  }
  static bool numbers_only(const Rule& rule) {
    for (const auto& input : rule.inputs)
      if (input.is_word || input.optional) return false;
    for (const auto& step : rule.steps) {
      if (step.formula.type().kind != expr::Type::Kind::number) return false;
      if (!bench::translate(step.formula.tree, [](const expr::Node& n) { return n.text; }, bench::Dialect::calc)) return false;
    }
    return true;
  }
  /// Whether a case in the middle of all ranges has a value at every step: a spreadsheet has an error there else.
  static bool finite(const Rule& rule) {
    const auto plan = test::plan_alone(rule, {});
    std::vector<double> middle;
    for (const auto& source : plan->sources()) middle.push_back(source.plausible);
    std::vector<exec::Column> columns;
    for (const double& v : middle) columns.push_back({&v, true});
    exec::Scratch scratch(plan->replay(), 1);
    exec::run_block(plan->replay(), columns, 0, 1, scratch);
    return std::all_of(rule.steps.begin(), rule.steps.end(),
                       [&](const auto& step) { return std::isfinite(scratch.read(plan->replay().slot(plan->value(rule, step.name)), 0)); });
  }
  std::size_t column_of(const Line& line, const std::string& name) const {
    if (const auto* input = line.rule->input(name)) return static_cast<std::size_t>(std::distance(inputs.begin(), inputs.find(input->key)));
    for (std::size_t i = 0; i < lines.size(); ++i)
      if (lines[i].rule == line.rule && lines[i].step->name == name) return inputs.size() + i;
    throw std::runtime_error("no column for " + name);
  }
  static std::string letters(std::size_t column) {
    std::string out(1, static_cast<char>('A' + column % 26));
    if (column >= 26) out.insert(0, 1, static_cast<char>('A' + column / 26 - 1));
    return out;
  }
};

using Table = std::vector<std::vector<double>>;

Table random_inputs(const Selection& chosen) {
  std::mt19937_64 random(1);
  Table columns;
  for (const auto& [key, range] : chosen.inputs) {
    std::uniform_real_distribution<double> between(range.first, range.second);
    auto& column = columns.emplace_back(kRows);
    for (double& v : column) v = between(random);
  }
  return columns;
}

/// The values of all lines, and the least time of a round.
Table run_here(const Selection& chosen, const Table& inputs, double& seconds) {
  rules::PlanRequest request;
  request.targets = chosen.rules;
  for (const auto& [key, range] : chosen.inputs) request.given.insert(key);
  const rules::Plan plan(test::built_in(), request);
  std::vector<program::Value> wanted;
  for (const auto& line : chosen.lines) wanted.push_back(plan.value(*line.rule, line.step->name));
  const exec::Compiled compiled(plan.program(), wanted, exec::Keep::wanted);
  std::vector<exec::Column> columns;
  for (const auto& source : plan.sources())
    columns.push_back({inputs[static_cast<std::size_t>(std::distance(chosen.inputs.begin(), chosen.inputs.find(source.key->name)))].data(), false});
  exec::Scratch scratch(compiled);
  Table out(wanted.size(), std::vector<double>(kRows));
  seconds = HUGE_VAL;
  for (int round = 0; round < kRounds; ++round) {
    const auto start = std::chrono::steady_clock::now();
    for (std::size_t at = 0; at < kRows; at += exec::kBlock) {
      const std::size_t count = std::min(exec::kBlock, kRows - at);
      exec::run_block(compiled, columns, at, count, scratch);
      for (std::size_t k = 0; k < wanted.size(); ++k) {
        const exec::Slot& slot = compiled.slot(wanted[k]);
        if (slot.is_constant) std::fill_n(&out[k][at], count, slot.constant);
        else std::copy_n(scratch.reg(slot.reg), count, &out[k][at]);
      }
    }
    seconds = std::min(seconds, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
  }
  return out;
}

void write_table(const std::string& path, const Table& columns) {
  std::ofstream out(path);
  for (std::size_t row = 0; row < kRows; ++row)
    for (std::size_t k = 0; k < columns.size(); ++k) out << fmt::format("{:.17g}{}", columns[k][row], k + 1 == columns.size() ? '\n' : ',');
}

std::string formula(const Selection& chosen, const Line& line, bench::Dialect dialect, std::size_t row) {
  return *bench::translate(line.step->formula.tree, [&](const expr::Node& node) { return chosen.name(line, node, dialect, row); }, dialect);
}

void write_numpy(const std::string& path, const Selection& chosen) {
  std::ofstream out(path);
  out << "import numpy as np\n\ndef run(c):\n";
  for (const auto& line : chosen.lines) out << "    c.append(" << formula(chosen, line, bench::Dialect::numpy, 0) << ")  # " << line.rule->id << " " << line.step->name << "\n";
}

std::string escaped(std::string text) {
  for (const auto& [sign, code] : {std::pair<std::string, std::string>{"&", "&amp;"}, {"<", "&lt;"}, {">", "&gt;"}})
    for (auto at = text.find(sign); at != std::string::npos; at = text.find(sign, at + code.size())) text.replace(at, 1, code);
  return text;
}

void write_sheet(const std::string& path, const Selection& chosen, const Table& inputs) {
  std::ofstream out(path);
  out << R"(<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" )"
         R"(xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" office:version="1.3" office:mimetype="application/vnd.oasis.opendocument.spreadsheet">
<office:body><office:spreadsheet><table:table table:name="rows">
)";
  for (std::size_t row = 0; row < kRows; ++row) {
    out << "<table:table-row>";
    for (const auto& column : inputs) out << fmt::format(R"(<table:table-cell office:value-type="float" office:value="{:.17g}"/>)", column[row]);
    for (const auto& line : chosen.lines)
      out << fmt::format(R"(<table:table-cell table:formula="of:={}"/>)", escaped(formula(chosen, line, bench::Dialect::calc, row)));
    out << "</table:table-row>\n";
  }
  out << "</table:table></office:spreadsheet></office:body></office:document>\n";
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fprintf(stderr, "usage: sheet_bench FOLDER\n");
    return 2;
  }
  Selection chosen;
  chosen.fill();
  const std::string folder = argv[1];
  const Table inputs = random_inputs(chosen);
  double seconds = 0;
  const Table results = run_here(chosen, inputs, seconds);
  write_table(folder + "/inputs.csv", inputs);
  write_table(folder + "/results.csv", results);
  write_numpy(folder + "/formulas.py", chosen);
  write_sheet(folder + "/sheet.fods", chosen, inputs);
  std::printf("%zu formulas of %zu rules, %zu rows\n%.3f\n", chosen.lines.size(), chosen.rules.size(), kRows, 1e9 * seconds / kRows);
  return 0;
}
