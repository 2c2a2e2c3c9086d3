// `jambcheck rules --complete`: whether the rules leave no kind of case without an answer.
#include "rules/complete.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/commands.h"

namespace jambcheck::cli {
namespace {

using rules::Completeness;
using rules::Finding;
using rules::FindingKind;

/// Every kind of finding: its heading, its name in JSON, and how one of them is told.
struct Section {
  FindingKind kind;
  const char* name;
  const char* heading;
  const char* line;  ///< {0} subject, {1} other
};
constexpr Section kSections[] = {
    {FindingKind::nothing_required, "nothing_required", "Cases for which nothing is required", "no line of required/1 speaks of them"},
    {FindingKind::not_applicable, "not_applicable", "Rules required where they do not apply", "{0}"},
    {FindingKind::no_value, "no_value", "Values that nobody gives and nobody asks for", "{0}, read by {1}"},
    {FindingKind::no_question, "no_question", "Words that decide, without a question when they are missing", "{0}"},
    {FindingKind::unknown_word, "unknown_word", "Words that a rule which applies does not know", "{0}, read by {1}"},
    {FindingKind::same_code, "same_code", "Two checks of one case with the same code", "{0} and {1}"},
    {FindingKind::dead_rule, "dead_rule", "Rules that apply to no case", "{0}"},
    {FindingKind::dead_line, "dead_line", "Required lines that speak of no case", "{0}"},
    {FindingKind::unread_key, "unread_key", "Keys that no rule reads", "{0}"},
    {FindingKind::no_find, "no_find", "Questions that do not say how to find out", "{0}"},
    {FindingKind::aside, "aside", "Rules that no required check reads", "{0}"},
};

std::string in_words(const rules::WordSets& words) {
  std::string out;
  for (const auto& [key, list] : words) out += fmt::format("{}{} {}", out.empty() ? "" : ", ", key, fmt::join(list, " or "));
  return out.empty() ? "always" : out;
}

std::string told(const Section& section, const Finding& finding) {
  std::string out = fmt::format("  {}\n", fmt::format(fmt::runtime(section.line), finding.subject, finding.other));
  for (const auto& words : finding.when) out += fmt::format("    when {}\n", in_words(words));
  return out;
}

std::string section_text(const Section& section, const Completeness& result) {
  std::string lines;
  std::size_t count = 0;
  for (const auto& finding : result.findings)
    if (finding.kind == section.kind) {
      lines += told(section, finding);
      ++count;
    }
  return fmt::format("{}: {}\n{}", section.heading, count, lines);
}

std::string text(const Completeness& r) {
  std::string out = "Do the rules leave no case without an answer?\n";
  out += fmt::format("  {} words decide which rules apply; together they have {} combinations\n", r.words.size(),
                     r.combinations < 1e6 ? fmt::format("{:.0f}", r.combinations) : fmt::format("{:.2g}", r.combinations));
  out += fmt::format("  {} combinations walked; words that nothing hangs on are not told apart\n", r.walked);
  out += fmt::format("  {} kinds of case: {} are checked, {} are refused with the reason, {} have nothing required\n", r.kinds, r.checked,
                     r.refused, r.kinds - r.checked - r.refused);
  out += r.clean() ? "  Every case ends in its checks, in a question, or in a refusal with its reason.\n\n" : "  No. See below.\n\n";
  bool notes = false;
  for (const auto& section : kSections) {
    if (!notes && rules::is_note(section.kind)) out += "\nNotes, which leave no case without an answer\n";
    notes = notes || rules::is_note(section.kind);
    out += section_text(section, r);
  }
  return out;
}

std::string json(const Completeness& r) {
  nlohmann::ordered_json findings = nlohmann::ordered_json::array();
  for (const auto& section : kSections)
    for (const auto& f : r.findings) {
      if (f.kind != section.kind) continue;
      nlohmann::ordered_json when = nlohmann::ordered_json::array();
      for (const auto& words : f.when) when.push_back(nlohmann::ordered_json(words));
      findings.push_back({{"kind", section.name}, {"note", rules::is_note(f.kind)}, {"subject", f.subject}, {"other", f.other}, {"when", when}});
    }
  return nlohmann::ordered_json{{"format", "complete/1"}, {"complete", r.clean()}, {"words", r.words}, {"combinations", r.combinations},
                                {"walked", r.walked}, {"kinds", r.kinds}, {"checked", r.checked}, {"refused", r.refused},
                                {"findings", findings}}.dump(2) + "\n";
}

}  // namespace

Exit run_complete(Context& context) {
  const auto* set = context.rule_set();
  if (!set) return Exit::input;
  const Completeness result = rules::complete(*set);
  const Exit written = context.write(context.options().json ? json(result) : text(result));
  return written != Exit::holds ? written : result.clean() ? Exit::holds : Exit::broken;
}

}  // namespace jambcheck::cli
