#include "dialog/project_text.h"

#include <algorithm>

#include <fmt/format.h>

#include "opening/field.h"
#include "text/number.h"
#include "units/quantity.h"

namespace jambcheck::dialog {
namespace {

using opening::Field;
using opening::Level;
using opening::Written;

/// A key with its value or with keys below it.
struct Branch {
  std::string name, value, remark;
  std::vector<Branch> below;
};

/// Whether YAML takes the text as it stands.
bool is_plain(std::string_view text) {
  if (text.empty() || text != text::trim(text)) return false;
  const auto plain = [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || std::string_view(" ./_-'\"+()").find(c) != std::string_view::npos; };
  const char first = text.front();
  const bool starts = (first >= '0' && first <= '9') || (first >= 'a' && first <= 'z') || (first >= 'A' && first <= 'Z');
  return starts && text != "null" && text != "Null" && text != "NULL" && std::all_of(text.begin(), text.end(), plain);
}

std::string in_yaml(const std::string& text) {
  if (is_plain(text)) return text;
  if (!text.empty() && text.front() == '[') return text;
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c == '\n' || c == '\r' ? ' ' : c;
  }
  return out + "\"";
}

void put(Branch& root, std::string_view path, const std::string& value, const std::string& remark) {
  Branch* at = &root;
  while (true) {
    const auto dot = path.find('.');
    const std::string name(path.substr(0, dot));
    auto it = std::find_if(at->below.begin(), at->below.end(), [&](const Branch& b) { return b.name == name; });
    if (it == at->below.end()) it = at->below.insert(at->below.end(), Branch{name, "", "", {}});
    at = &*it;
    if (dot == std::string_view::npos) break;
    path.remove_prefix(dot + 1);
  }
  at->value = value;
  at->remark = remark;
}

void print(const Branch& branch, const std::string& indent, std::string& out) {
  for (const auto& b : branch.below) {
    if (!b.below.empty()) {
      out += indent + b.name + ":\n";
      print(b, indent + "  ", out);
      continue;
    }
    const std::string line = indent + b.name + ": " + in_yaml(b.value);
    out += b.remark.empty() ? line + "\n" : fmt::format("{:<38}  # {}\n", line, b.remark);
  }
}

std::string_view without_side(std::string_view path) {
  for (const std::string_view side : {"left.", "right."})
    if (path.substr(0, side.size()) == side) return path.substr(side.size());
  return path;
}

/// Where the field stands in the list; the sides follow.
std::size_t rank(const Written& value) {
  const std::string_view path = without_side(value.path);
  const auto& all = opening::fields();
  const auto it = std::find_if(all.begin(), all.end(), [&](const Field& f) { return f.path == path; });
  return static_cast<std::size_t>(it - all.begin()) + (path.size() == value.path.size() ? 0 : all.size());
}

std::string remark_of(const Written& value) {
  const std::string_view path = without_side(value.path);
  for (const Field& f : opening::fields())
    if (f.path == path) return std::string(f.say);
  return "";
}

bool has_below(const std::vector<Written>& values, const std::string& path) {
  return std::any_of(values.begin(), values.end(), [&](const Written& v) { return v.path.rfind(path + ".", 0) == 0; });
}

/// "lag 3/8 x 4" as kind, diameter, length: beside a coating it must stand as a map.
void part_fastener(const Written& value, const std::vector<Written>& values, const rules::RuleSet& rules, std::vector<Written>& out) {
  text::Diagnostics ignored;
  const auto read = opening::read_written({{"mark", "D-1", {}}, value}, "", {}, rules, ignored);
  for (const auto& entry : read.opening.facts) {
    const std::string& path = entry.first;
    const opening::Fact& fact = entry.second;
    const auto written = [&](const Written& v) { return v.path == path; };
    if (path.rfind(value.path + ".", 0) != 0 || std::any_of(values.begin(), values.end(), written)) continue;
    const bool number = fact.kind == opening::Fact::Kind::number && !fact.unknown;
    out.push_back({path, fact.unknown ? "unknown" : number ? units::show(fact.value, fact.shown, 12) : fact.word, {}});
  }
}

std::vector<Written> parted(const std::vector<Written>& values, const rules::RuleSet& rules) {
  std::vector<Written> out;
  for (const auto& value : values)
    if (has_below(values, value.path)) part_fastener(value, values, rules, out);
    else out.push_back(value);
  return out;
}

}  // namespace

std::string write_project(const ProjectText& project, const rules::RuleSet& rules) {
  std::vector<Written> values = parted(project.values, rules);
  std::stable_sort(values.begin(), values.end(), [](const Written& a, const Written& b) { return rank(a) < rank(b); });
  Branch shared, own;
  std::string mark = "D-1";
  for (const auto& value : values) {
    if (value.path == "mark") mark = value.text;
    else put(opening::owner_of(value.path) == opening::Owner::project ? shared : own, value.path, value.text, project.remarks ? remark_of(value) : "");
  }
  std::string out;
  for (std::size_t at = 0; at < project.head.size();) {
    const auto end = std::min(project.head.find('\n', at), project.head.size());
    out += "# " + project.head.substr(at, end - at) + "\n";
    at = end + 1;
  }
  out += "format: 1\n";
  print(shared, "", out);
  out += "openings:\n  - mark: " + in_yaml(mark) + "\n";
  print(own, "    ", out);
  return out;
}

}  // namespace jambcheck::dialog
