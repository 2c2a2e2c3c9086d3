// Whole openings as somebody would write them, right, wrong and strange, each with the state that a careful engineer
// gives it. A file of situations changes a base project a little, thing by thing:
//   schema: situations/1
//   base: wood.yaml                   in bases/
//   situations:
//     - name: hole 5/8 in from the edge
//       why: what the answer rests on
//       base: other.yaml              another base than the file's
//       change: {guide.edge: 5/8"}    path: value; site., project., building. and anchor_data stand at the top of the
//                                     file, all else in the first opening
//       remove: [guide.lip]
//       state: SHORT                  HOLDS, NOT SHOWN, ENGINEER or SHORT of the first opening; "not HOLDS" for what
//                                     can't be built at all: then the file may be refused as well
//       reason: wood.lag_screw.edge_any   a rule, or the code of a reason, that stands for that state
//       asks: guide.edge              a field or key among the questions
//       notes: adhesive               the code of a note
//       warns: K023                   a message of the reader that does not refuse the file
//       refused: K020                 in place of state: the file is not read, with this message, or one that begins so
//       known: why it is not so yet   the program gives another state; counted, and told when it is mended
// States are judged by the references before the program is asked. An expectation is never bent to the program.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "opening/anchor_files.h"
#include "support/program.h"
#include "support/shipped.h"
#include "yaml/node.h"

namespace jambcheck {
namespace {

namespace fs = std::filesystem;
using yaml::Entry;
using yaml::Kind;
using yaml::Node;

const char* const kFolder = "tests/situations";
const char* const kNotHolds = "not HOLDS";
constexpr std::size_t kLeastInAll = 250;

struct Situation {
  std::string name, why, base;
  std::vector<Entry> change;
  std::vector<std::string> remove;
  std::string state, reason, asks, notes, warns, refused, known;
};

// ---- Reading

text::SourceSet& sources() {
  static text::SourceSet kept;
  return kept;
}

Node parsed(const std::string& path) {
  text::Diagnostics diagnostics;
  auto documents = yaml::parse(*sources().add(path, test::read_file(path)), diagnostics);
  if (diagnostics.has_errors() || documents.size() != 1) throw std::runtime_error(path + ":\n" + text::render(diagnostics));
  return documents.front();
}

Situation read_situation(const Node& node, const std::string& base) {
  text::Diagnostics diagnostics;
  yaml::check_keys(node, {"name", "why", "base", "change", "remove", "state", "reason", "asks", "notes", "warns", "refused", "known"}, "a situation", diagnostics);
  if (diagnostics.has_errors()) throw std::runtime_error(text::render(diagnostics));
  const auto word = [&](const char* key) { return node.find(key) ? node.find(key)->text : std::string(); };
  Situation out{word("name"), word("why"), word("base"), {}, {}, word("state"), word("reason"), word("asks"), word("notes"), word("warns"), word("refused"), word("known")};
  if (out.base.empty()) out.base = base;
  if (const auto* change = node.find("change")) out.change = change->entries;
  if (const auto* remove = node.find("remove"))
    for (const auto& path : remove->items) out.remove.push_back(path.text);
  if (out.name.empty() || out.why.empty() || out.state.empty() == out.refused.empty())
    throw std::runtime_error(fmt::format("'{}': a situation has a name, a why, and either a state or refused", out.name));
  return out;
}

std::vector<Situation> read_situations(const std::string& path) {
  const Node file = parsed(path);
  if (!file.find("schema") || file.find("schema")->text != "situations/1") throw std::runtime_error(path + ": not situations/1");
  std::vector<Situation> out;
  for (const auto& node : file.find("situations")->items) out.push_back(read_situation(node, file.find("base")->text));
  return out;
}

// ---- Making the project file

Node& child(Node& map, const std::string& key) {
  if (map.kind == Kind::null) map.kind = Kind::map;
  if (!map.is_map()) throw std::runtime_error("'" + key + "' can't be put below '" + map.text + "'; write the base with a map there");
  for (auto& entry : map.entries)
    if (entry.key.text == key) return entry.value;
  Entry added;
  added.key.kind = Kind::scalar;
  added.key.text = key;
  map.entries.push_back(std::move(added));
  return map.entries.back().value;
}

bool at_top(const std::string& path) {
  for (const char* level : {"format", "project", "site", "building", "anchor_data", "allowances"})
    if (path == level || path.rfind(std::string(level) + ".", 0) == 0) return true;
  return false;
}

/// The map that holds the last word of `path`, and that word.
std::pair<Node*, std::string> holder(Node& file, const std::string& path) {
  Node* node = at_top(path) ? &file : &child(file, "openings").items.at(0);
  std::size_t begin = 0;
  for (auto dot = path.find('.'); dot != std::string::npos; begin = dot + 1, dot = path.find('.', begin))
    node = &child(*node, path.substr(begin, dot - begin));
  return {node, path.substr(begin)};
}

void apply(Node& file, const Situation& situation) {
  for (const auto& entry : situation.change) {
    auto [map, key] = holder(file, entry.key.text);
    child(*map, key) = entry.value;
  }
  for (const auto& path : situation.remove) {
    auto [map, key] = holder(file, path);
    const std::string name = key;
    const auto gone = std::remove_if(map->entries.begin(), map->entries.end(), [&](const Entry& e) { return e.key.text == name; });
    if (gone == map->entries.end()) throw std::runtime_error("the base has no " + path + " to remove");
    map->entries.erase(gone, map->entries.end());
  }
}

std::string scalar_text(const Node& node) {
  if (!node.quoted) return node.text;
  std::string out = "'";
  for (const char c : node.text) out += c == '\'' ? "''" : std::string(1, c);
  return out + "'";
}

/// The tree as YAML text again; items of lists on one line.
std::string flow(const Node& node) {
  if (node.is_scalar()) return scalar_text(node);
  if (node.is_null()) return "";
  std::string out;
  for (const auto& item : node.items) out += (out.empty() ? "" : ", ") + flow(item);
  for (const auto& entry : node.entries) out += (out.empty() ? "" : ", ") + scalar_text(entry.key) + ": " + flow(entry.value);
  return node.is_map() ? "{" + out + "}" : "[" + out + "]";
}

void block(const Node& map, const std::string& indent, std::string& out) {
  for (const auto& entry : map.entries) {
    out += indent + scalar_text(entry.key) + ":";
    if (entry.value.is_map() && !entry.value.entries.empty()) {
      out += "\n";
      block(entry.value, indent + "  ", out);
    } else if (entry.value.is_sequence() && !entry.value.items.empty() && entry.value.items.front().is_map()) {
      out += "\n";
      for (const auto& item : entry.value.items) {
        std::string inner;
        block(item, indent + "    ", inner);
        out += indent + "  - " + inner.substr(indent.size() + 4);
      }
    } else {
      out += " " + flow(entry.value) + "\n";
    }
  }
}

// ---- Asking the program

struct Given {
  std::string text;     ///< of the project file
  bool refused = false;
  std::string messages;
  verdict::OpeningResult result;
};

Given ask(const Situation& situation, const rules::RuleSet& set) {
  static verdict::Checker checker(set);  // keeps its plans
  const std::string path = fmt::format("{}/bases/{}", kFolder, situation.base);
  Node file = parsed(path);
  apply(file, situation);
  Given out;
  block(file, "", out.text);
  text::Diagnostics diagnostics;
  auto project = opening::read_project(*sources().add(path, out.text), set, diagnostics);
  opening::read_anchor_files(project, sources(), set, diagnostics);
  out.messages = text::render(diagnostics);
  out.refused = diagnostics.has_errors() || project.broken || project.openings.empty() || project.openings.front().broken;
  if (!out.refused) out.result = checker.check(project, project.openings.front());
  return out;
}

/// Rules and codes that stand for `state`, each with its words.
std::vector<std::pair<std::string, std::string>> reasons_for(const verdict::OpeningResult& result, rules::State state) {
  std::vector<std::pair<std::string, std::string>> out;
  const auto add = [&](const rules::Reason& reason) {
    if (reason.leads_to != state || state == rules::State::holds) return;  // a note leads to HOLDS
    out.emplace_back(reason.code, reason.text);
    out.emplace_back(reason.rule, reason.text);
  };
  for (const auto& flag : result.flags) add(flag);
  for (const auto& connection : result.connections) {
    for (const auto& reason : connection.reasons) add(reason);
    for (const auto& check : connection.checks) {
      for (const auto& reason : check.judgement.reasons) add(reason);
      if (check.judgement.state == state && state != rules::State::holds)
        out.emplace_back(check.rule->id, fmt::format("{} {:.3f}", check.address, check.judgement.ratio));
      else if (check.address == result.governs)
        out.emplace_back(check.rule->id, "decides");
    }
  }
  return out;
}

bool has_question(const verdict::OpeningResult& result, const std::string& asked) {
  for (const auto& question : result.questions)
    if (question.key == asked || std::count(question.fields.begin(), question.fields.end(), asked)) return true;
  return false;
}

std::string told(const verdict::OpeningResult& result) {
  std::string out = fmt::format("{} {:.3f}; {} ({})\n", rules::word(result.state), result.ratio, result.why, result.governs);
  std::set<std::string> seen;
  for (const auto& [code, words] : reasons_for(result, result.state))
    if (seen.insert(code).second) out += fmt::format("      {}: {}\n", code, words);
  for (const auto& question : result.questions) out += fmt::format("      asks {} {}: {}\n", question.key, fmt::join(question.fields, " "), question.ask);
  return out;
}

/// What differs, or nothing.
std::string difference(const Situation& expected, const Given& given) {
  if (!expected.refused.empty())
    return given.refused && given.messages.find("error " + expected.refused) != std::string::npos
               ? ""
               : fmt::format("the file should be refused with {}\n    got {}", expected.refused, given.refused ? given.messages : told(given.result));
  const bool any_no = expected.state == kNotHolds;
  if (given.refused) return any_no ? "" : "the file is refused:\n" + given.messages;
  const auto& result = given.result;
  if (any_no ? result.state == rules::State::holds : rules::word(result.state) != expected.state) return fmt::format("expected {}\n    got {}", expected.state, told(result));
  const auto reasons = reasons_for(result, result.state);
  const auto named = [&](const auto& reason) { return reason.first == expected.reason; };
  if (!expected.reason.empty() && std::none_of(reasons.begin(), reasons.end(), named)) return fmt::format("the reason should be {}\n    got {}", expected.reason, told(result));
  if (!expected.asks.empty() && !has_question(result, expected.asks)) return fmt::format("it should ask for {}\n    got {}", expected.asks, told(result));
  const auto noted = [&](const rules::Reason& note) { return note.code == expected.notes; };
  if (!expected.notes.empty() && std::none_of(result.notes.begin(), result.notes.end(), noted)) return fmt::format("it should note {}\n    got {}", expected.notes, told(result));
  if (!expected.warns.empty() && given.messages.find(expected.warns + ":") == std::string::npos) return fmt::format("it should warn with {}\n    got {}", expected.warns, given.messages);
  return "";
}

// ---- Tests: one a file

struct Count {
  std::size_t all = 0, known = 0;
  std::map<std::string, std::size_t> states;
};
Count& total() {
  static Count kept;
  return kept;
}

class Situations : public Shipped {
 public:
  explicit Situations(std::string path) : path_(std::move(path)) {}
  void TestBody() override {
    Count count;
    for (const auto& situation : read_situations(path_)) try_one(situation, count);
    fmt::print("{}: {} situations, {} known to differ\n", fs::path(path_).stem().string(), count.all, count.known);
  }

 private:
  void try_one(const Situation& situation, Count& count) {
    ++count.all;
    try {
      const auto given = ask(situation, set());
      const auto differs = difference(situation, given);
      if (situation.known.empty()) {
        EXPECT_EQ(differs, "") << "  " << situation.name << " (" << situation.why << ")";
      } else {
        ++count.known;
        EXPECT_NE(differs, "") << "  " << situation.name << ": it is as expected now; take known: away";
        fmt::print("known: {}: {}: {}\n", fs::path(path_).stem().string(), situation.name, situation.known);
      }
    } catch (const std::exception& e) {
      ADD_FAILURE() << situation.name << ": " << e.what();
    }
  }
  std::string path_;
};

std::vector<std::string> files() {
  std::vector<std::string> out;
  for (const auto& entry : fs::directory_iterator(kFolder))
    if (entry.path().extension() == ".yaml") out.push_back(entry.path().generic_string());
  std::sort(out.begin(), out.end());
  return out;
}

TEST(SituationSuite, IsLargeAndItsNamesAreDifferent) {
  for (const auto& path : files()) {
    std::set<std::string> names;
    for (const auto& situation : read_situations(path)) {
      EXPECT_TRUE(names.insert(situation.name).second) << path << ": '" << situation.name << "' stands twice";
      ++total().all;
      ++total().states[situation.refused.empty() ? situation.state : "refused"];
    }
  }
  EXPECT_GE(total().all, kLeastInAll);
  for (const char* state : {"HOLDS", "NOT SHOWN", "ENGINEER", "SHORT", "refused"}) {
    EXPECT_GE(total().states[state], 10U) << state;
    fmt::print("{}: {}\n", state, total().states[state]);
  }
}

/// The bases themselves hold: what a situation changes is what its answer comes from.
class SituationBases : public Shipped {};
TEST_F(SituationBases, Hold) {
  for (const auto& entry : fs::directory_iterator(fmt::format("{}/bases", kFolder))) {
    Situation plain;
    plain.base = entry.path().filename().string();
    plain.state = "HOLDS";
    EXPECT_EQ(difference(plain, ask(plain, set())), "") << plain.base;
  }
}

}  // namespace
}  // namespace jambcheck

int main(int argc, char** argv) {
  ::testing::InitGoogleTest(&argc, argv);
  for (const auto& path : jambcheck::files()) {
    const auto name = std::filesystem::path(path).stem().string();
    ::testing::RegisterTest("Situations", name.c_str(), nullptr, nullptr, __FILE__, __LINE__,
                            [path]() -> jambcheck::Shipped* { return new jambcheck::Situations(path); });
  }
  return RUN_ALL_TESTS();
}
