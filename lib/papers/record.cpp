#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "papers/package.h"
#include "text/number.h"

namespace jambcheck::papers {
namespace {

using json = nlohmann::json;  // sorted: finding one of many thousand checks must not take a walk

/// Numbers as shortest text: the very bits travel, and NaN and infinity have a word.
std::string exact(double x) { return std::isnan(x) ? "none" : std::isinf(x) ? "unlimited" : text::shortest(x); }

std::string shown(const json& j, const char* key) {
  if (!j.contains(key)) return "";
  return j[key].is_string() ? j[key].get<std::string>() : j[key].dump();
}

/// Members of two maps of maps, compared word by word.
void compare(const json& before, const json& now, const std::string& what, std::vector<std::string>& out) {
  for (const auto& [name, b] : before.items()) {
    if (!now.contains(name)) {
      out.push_back(fmt::format("{} {}: is no more", what, name));
      continue;
    }
    const auto& n = now[name];
    for (const auto& [key, value] : b.items())
      if (!n.contains(key) || n[key] != value) out.push_back(fmt::format("{} {}: {} was {}, is {}", what, name, key, shown(b, key.c_str()), shown(n, key.c_str())));
  }
  for (const auto& [name, n] : now.items())
    if (!before.contains(name)) out.push_back(fmt::format("{} {}: is new", what, name));
}

}  // namespace

std::string replay_record(const std::vector<verdict::OpeningResult>& results, const rules::RuleSet& set) {
  json openings = json::object(), checks = json::object(), files = json::object();
  for (const auto& r : results) {
    openings[r.mark] = {{"state", rules::word(r.state)}, {"ratio", exact(r.ratio)}, {"decided by", r.governs}};
    for (const auto& c : r.connections)
      for (const auto& k : c.checks)
        checks[k.address] = {{"state", rules::word(k.judgement.state)}, {"demand", exact(k.judgement.demand)}, {"capacity", exact(k.judgement.capacity)}, {"ratio", exact(k.judgement.ratio)}, {"case", k.load_case}};
  }
  for (const auto& s : set.stamps()) files[s.path] = {{"hash", fmt::format("{:016x}", s.hash)}};
  const json out = {{"format", "record/1"}, {"program", "jambcheck " JAMBCHECK_VERSION}, {"openings", openings}, {"checks", checks}, {"rules", files}};
  return out.dump(1) + "\n";
}

std::vector<std::string> compare_records(const std::string& before, const std::string& now, std::string& problem) {
  std::vector<std::string> out;
  const json a = json::parse(before, nullptr, false), b = json::parse(now, nullptr, false);
  for (const json* j : {&a, &b}) {
    bool good = j->is_object() && j->contains("format") && (*j)["format"] == "record/1";
    for (const char* part : {"openings", "checks", "rules"}) good = good && j->contains(part) && (*j)[part].is_object();
    for (const char* part : {"openings", "checks", "rules"})
      if (good)
        for (const auto& [name, entry] : (*j)[part].items()) good = good && entry.is_object();
    if (!good) {
      problem = "its record is damaged or of another program";
      return out;
    }
  }
  if (shown(a, "program") != shown(b, "program")) out.push_back(fmt::format("program: was {}, is {}", shown(a, "program"), shown(b, "program")));
  compare(a["openings"], b["openings"], "opening", out);
  compare(a["checks"], b["checks"], "check", out);
  compare(a["rules"], b["rules"], "file", out);
  return out;
}

}  // namespace jambcheck::papers
