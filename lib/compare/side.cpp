// The two sides of a comparison, from projects and from results.
#include <cmath>
#include <limits>

#include <nlohmann/json.hpp>

#include "compare/compare.h"
#include "text/suggest.h"
#include "units/quantity.h"

namespace jambcheck::compare {
namespace {

using json = nlohmann::json;
using opening::Fact;

std::string text_of(const Fact& fact) {
  if (fact.unknown) return "unknown";
  if (fact.kind == Fact::Kind::number) return units::show(fact.value, fact.shown, 6);
  if (fact.kind != Fact::Kind::list) return fact.word;
  std::vector<std::string> items;
  for (const double value : fact.list) items.push_back(units::show(value, fact.shown, 6));
  return text::join(items);
}

Values values_of(const opening::Facts& facts, const std::vector<opening::Choice>& choices) {
  Values out;
  for (const auto& [path, fact] : facts) out[path] = {text_of(fact), fact};
  for (const auto& choice : choices) {
    std::vector<std::string> options;
    for (const auto& option : choice.options) options.push_back(option.text);
    const std::string text = choice.range ? options.front() + " .. " + options.back() : text::join(options, " or ");
    for (const auto& [path, fact] : choice.options.front().facts) out.erase(path);
    out[choice.path] = {text, std::nullopt};
  }
  return out;
}

std::string string_in(const json& object, const char* key) { return object.contains(key) && object[key].is_string() ? object[key].get<std::string>() : ""; }

double ratio_in(const json& object) {
  if (!object.contains("ratio") || object["ratio"].is_null()) return std::numeric_limits<double>::quiet_NaN();
  if (object["ratio"].is_number()) return object["ratio"].get<double>();
  return std::numeric_limits<double>::infinity();
}

OpeningSide opening_in(const json& object) {
  OpeningSide out{string_in(object, "state"), ratio_in(object), string_in(object, "governs"), string_in(object, "why"), {}, {}};
  if (object.contains("questions") && object["questions"].is_array())
    for (const auto& q : object["questions"]) out.questions[string_in(q, "key")] = string_in(q, "ask");
  return out;
}

Values shared_in(const json& project) {
  Values out;
  for (const auto& [path, value] : project.items()) {
    if (value.is_string()) out[path] = {value.get<std::string>(), std::nullopt};
    else if (value.is_object() && value.contains("value") && value["value"].is_number()) out[path] = {units::show(value["value"].get<double>(), *units::parse_unit("1"), 6) + " " + string_in(value, "unit"), std::nullopt};
  }
  return out;
}

}  // namespace

Side side_of(const opening::Project& project, const std::vector<verdict::OpeningResult>& results) {
  Side out;
  out.has_values = true;
  out.shared = values_of(project.facts, project.choices);
  for (const auto& o : project.openings) {
    OpeningSide side;
    side.state = "not read";
    side.ratio = std::numeric_limits<double>::quiet_NaN();
    side.values = values_of(o.facts, o.choices);
    for (const auto& r : results) {
      if (r.mark != o.mark) continue;
      side.state = rules::word(r.state);
      side.ratio = r.ratio;
      side.governs = r.governs;
      side.why = r.why;
      for (const auto& q : r.questions) side.questions[q.key] = q.ask;
    }
    out.marks.push_back(o.mark);
    out.openings[o.mark] = std::move(side);
  }
  return out;
}

std::optional<Side> side_of_json(const std::string& text, std::string& problem) {
  const json root = json::parse(text, nullptr, false);
  if (root.is_discarded() || !root.is_object()) {
    problem = "it is no whole JSON text";
    return std::nullopt;
  }
  const std::string format = string_in(root, "format");
  if ((format != "result/1" && format != "schedule/1") || !root.contains("openings") || !root["openings"].is_array()) {
    problem = format.empty() ? "it does not say its format" : "its format is " + format;
    return std::nullopt;
  }
  Side out;
  if (root.contains("project") && root["project"].is_object()) out.shared = shared_in(root["project"]);
  const auto add = [&](const std::string& mark, OpeningSide side) {
    if (mark.empty() || !out.openings.emplace(mark, std::move(side)).second) return;
    out.marks.push_back(mark);
  };
  for (const auto& o : root["openings"])
    if (o.is_object()) add(string_in(o, "mark"), opening_in(o));
  if (root.contains("not_read") && root["not_read"].is_array())
    for (const auto& mark : root["not_read"])
      if (mark.is_string()) add(mark.get<std::string>(), {"not read", std::numeric_limits<double>::quiet_NaN(), "", "", {}, {}});
  return out;
}

}  // namespace jambcheck::compare
