#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "papers/check_report.h"
#include "rules/trace.h"
#include "text/number.h"
#include "text/suggest.h"
#include "units/quantity.h"
#include "verdict/smaller.h"

namespace jambcheck::papers {
namespace {

using opening::Fact;
using rules::State;
using verdict::CheckResult;
using verdict::OpeningResult;

std::string text_of(const opening::Facts& facts, std::string_view path) {
  const Fact* f = opening::fact(facts, path);
  return f && !f->unknown ? f->word : std::string();
}

std::string amount(const opening::Facts& facts, std::string_view path) {
  const Fact* f = opening::fact(facts, path);
  if (!f) return "not given";
  return f->unknown ? "unknown" : units::show(f->value, f->shown);
}

std::string plural(std::size_t n, const char* one, const char* many) { return fmt::format("{} {}", n, n == 1 ? one : many); }

std::string head(const opening::Project& project, std::size_t openings) {
  std::string out = text_of(project.facts, "project.name");
  out += fmt::format("{}{}", out.empty() ? "" : "      ", plural(openings, "opening", "openings"));
  for (const auto* path : {"project.code", "project.method"})
    if (const auto word = text_of(project.facts, path); !word.empty()) out += "   " + word;
  const bool given = opening::fact(project.facts, "site.wind.inward") || opening::fact(project.facts, "site.wind.outward");
  if (!given && opening::fact(project.facts, "site.wind.speed")) {
    out += fmt::format("   wind {}", amount(project.facts, "site.wind.speed"));
    if (const auto exposure = text_of(project.facts, "site.wind.exposure"); !exposure.empty()) out += ", exposure " + exposure;
  } else if (given) {
    out += fmt::format("   wind in {} / out {}", amount(project.facts, "site.wind.inward"), amount(project.facts, "site.wind.outward"));
    const auto from = text_of(project.facts, "site.wind.from");
    out += from.empty() ? " (given)" : " (" + from + ")";
  }
  out += "\n";
  if (text_of(project.facts, "project.demo") == "yes") out += "An invented project: no real building, door or person stands behind it.\n";
  return out;
}

std::string ratio_text(double ratio) { return std::isnan(ratio) ? "  --" : std::isinf(ratio) ? " inf" : fmt::format("{:>4.2f}", ratio); }

/// A long line broken at blanks, every line after the first indented.
std::string wrapped(const std::string& text, std::size_t indent, std::size_t width = 110) {
  std::string out, line;
  std::size_t at = 0;
  while (at < text.size()) {
    const auto end = std::min(text.find(' ', at), text.size());
    const std::string piece = text.substr(at, end - at);
    if (!line.empty() && indent + line.size() + 1 + piece.size() > width) {
      out += line + "\n" + std::string(indent, ' ');
      line.clear();
    }
    line += (line.empty() ? "" : " ") + piece;
    at = end + 1;
  }
  return out + line;
}

/// Of comparisons of one kind (both sides, several states of the door) the one in which the given figure is least.
std::vector<verdict::CrossCheck> least_of_each(const std::vector<verdict::CrossCheck>& all) {
  std::vector<verdict::CrossCheck> out;
  for (const auto& c : all) {
    const auto it = std::find_if(out.begin(), out.end(), [&](const auto& kept) { return kept.say == c.say; });
    if (it == out.end()) out.push_back(c);
    else if (c.ratio < it->ratio) *it = c;
  }
  return out;
}

std::string state_and_ratio(const verdict::Answer& a) {
  const bool by_number = a.state == State::holds || a.state == State::short_;
  return std::string(rules::word(a.state)) + (!by_number || std::isnan(a.ratio) ? "" : fmt::format(" {}", text::rounded(a.ratio, 3)));
}

/// The question, how to find out, the field to write, and what each answer would give.
std::string question_lines(const verdict::Question& q, const std::string& under) {
  std::string out = under + wrapped("? " + q.ask, under.size() + 2) + "\n";
  if (!q.find.empty()) out += under + "  " + wrapped(q.find, under.size() + 2) + "\n";
  if (!q.fields.empty()) out += under + "  write it as  " + wrapped(text::join(q.fields), under.size() + 2) + "\n";
  if (q.answers.empty()) return out;
  std::vector<std::string> given;
  for (const auto& a : q.answers) given.push_back(a.value + ": " + state_and_ratio(a));
  return out + under + "  " + wrapped("this alone would give  " + text::join(given), under.size() + 2) + "\n";
}

constexpr std::size_t kMostOfReport = 3;  // more figures of one report are asked for in one line

/// A figure that an anchor's evaluation report gives.
bool of_report(const verdict::Question& q) { return q.key.rfind("anchor.", 0) == 0; }

std::string report_question(const std::vector<verdict::Question>& questions) {
  std::vector<std::string> names;
  for (const auto& q : questions)
    if (of_report(q)) names.push_back(q.key.substr(7));
  return "Which evaluation report has this anchor? Bring it and write its figures in a file of anchor data (see cases/anchor_data): " + text::join(names);
}

void opening_lines(const OpeningResult& r, std::size_t mark_width, const ReportOptions& options, std::string& out) {
  const std::string lead = fmt::format("  {:<4}  {:<{}}  {}  ", mark_of(r.state), r.mark, mark_width, ratio_text(r.ratio));
  out += lead + wrapped(r.why, lead.size()) + "\n";
  const std::string under(lead.size(), ' ');
  if (r.state != State::holds && !r.governs.empty()) out += fmt::format("{}see {}\n", under, r.governs);
  const bool folded = static_cast<std::size_t>(std::count_if(r.questions.begin(), r.questions.end(), of_report)) > kMostOfReport;
  for (const auto& a : r.answers) out += under + fmt::format("with {} {}: {}\n", a.field, a.value, state_and_ratio(a));
  for (const auto& q : r.questions)
    if (!of_report(q) || !folded) out += question_lines(q, under);
  if (folded) out += under + wrapped("? " + report_question(r.questions), under.size() + 2) + "\n";
  for (const auto& c : least_of_each(r.cross_checks))
    out += under + wrapped(fmt::format("= {}: {}: {} given, {} worked out ({:.2f})", c.where, c.say, c.given, c.worked_out, c.ratio), under.size() + 2) + "\n";
  if (!options.verbose) return;
  for (const auto& f : r.flags) out += under + wrapped("! " + f.text, under.size() + 2) + "\n";
  for (const auto& n : r.notes) out += under + wrapped("to do: " + n.text, under.size() + 2) + "\n";
  for (const auto& c : r.connections) {
    out += fmt::format("{}{:<4}  {:<14} {}  {}\n", under, mark_of(c.state), c.name, ratio_text(c.ratio), c.fastener);
    for (const auto& check : c.checks)
      out += fmt::format("{}      {:<4} {:<22} {}  {} / {}  {}\n", under, mark_of(check.judgement.state), check.address, ratio_text(check.judgement.ratio),
                         units::show(check.judgement.demand, check.unit, options.digits), units::show(check.judgement.capacity, check.unit, options.digits),
                         check.load_case);
  }
  for (const auto& b : r.by_others) out += under + wrapped(verdict::by_others_text(b, options.digits), under.size() + 2) + "\n";
  if (!r.copied.empty()) out += fmt::format("{}copied from {}: {}\n", under, r.copied.front().second, wrapped([&] {
                                              std::vector<std::string> paths;
                                              for (const auto& [path, from] : r.copied) paths.push_back(path);
                                              return text::join(paths);
                                            }(), under.size()));
}

std::string tally(const std::vector<OpeningResult>& results, std::size_t not_read) {
  std::size_t n[5] = {0, 0, 0, 0, 0};
  for (const auto& r : results) ++n[static_cast<std::size_t>(r.state)];
  const auto of = [&](State s) { return n[static_cast<std::size_t>(s)]; };
  const std::string rest = not_read == 0 ? "." : fmt::format(", {} not read.", not_read);
  return fmt::format("{} hold, {} short, {} for an engineer, {} open", of(State::holds), of(State::short_), of(State::engineer), of(State::not_shown)) + rest;
}

/// Every open question of the project, the one that frees most openings first.
std::string ranked_questions(const std::vector<OpeningResult>& results) {
  constexpr std::size_t kMost = 8;
  struct Asked {
    const verdict::Question* question;
    std::vector<std::string> marks;
    std::size_t alone = 0;
  };
  std::vector<Asked> all;
  for (const auto& r : results)
    for (const auto& q : r.questions) {
      auto it = std::find_if(all.begin(), all.end(), [&](const Asked& a) { return a.question->key == q.key; });
      if (it == all.end()) it = all.insert(all.end(), {&q, {}});
      it->marks.push_back(r.mark);
      if (r.questions.size() == 1) ++it->alone;
    }
  if (all.empty()) return "";
  std::stable_sort(all.begin(), all.end(), [](const Asked& a, const Asked& b) { return std::pair(a.alone, a.marks.size()) > std::pair(b.alone, b.marks.size()); });
  std::string out = "To find out, most useful first:\n";
  for (std::size_t i = 0; i < all.size() && i < kMost; ++i) {
    const Asked& a = all[i];
    const std::string decided = a.alone == 0 ? std::string("one of several questions of ") : fmt::format("alone decides {} of ", a.alone);
    out += fmt::format("  {}. {}\n", i + 1, wrapped(fmt::format("{} ({}{}: {})", a.question->ask, decided, plural(a.marks.size(), "opening", "openings"), text::join(a.marks)), 5));
  }
  if (all.size() > kMost) out += fmt::format("  and {} more\n", all.size() - kMost);
  return out;
}

/// One assumed value with all openings that share it, and the worst that each other word would give.
struct SharedAssumption {
  const verdict::Assumed* assumed;
  std::vector<std::string> marks;
  std::vector<verdict::Answer> otherwise;
};

void add_otherwise(SharedAssumption& shared, const verdict::Assumed& more) {
  for (const auto& o : more.otherwise) {
    const auto it = std::find_if(shared.otherwise.begin(), shared.otherwise.end(), [&](const auto& k) { return k.value == o.value; });
    if (it == shared.otherwise.end()) shared.otherwise.push_back(o);
    else if (o.state > it->state || (o.state == it->state && o.ratio > it->ratio)) *it = o;
  }
}

std::vector<SharedAssumption> shared_assumptions(const std::vector<OpeningResult>& results) {
  std::vector<SharedAssumption> all;
  for (const auto& r : results)
    for (const auto& a : r.assumed) {
      auto it = std::find_if(all.begin(), all.end(), [&](const auto& e) { return e.assumed->what == a.what && e.assumed->value == a.value && e.assumed->why == a.why; });
      if (it == all.end()) it = all.insert(all.end(), {&a, {}, {}});
      it->marks.push_back(r.mark);
      add_otherwise(*it, a);
    }
  // Those that would change an answer come first.
  std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return !a.otherwise.empty() && b.otherwise.empty(); });
  return all;
}

std::string assumed_lines(const std::vector<OpeningResult>& results, bool verbose) {
  const auto all = shared_assumptions(results);
  if (all.empty()) return "";
  std::string out = fmt::format("Assumed, because the project does not say: {}{}\n", plural(all.size(), "value", "values"), verbose ? "" : " (all of them: check -v)");
  if (!verbose) return out;
  for (const auto& [a, marks, otherwise] : all) {
    const std::string where = marks.size() == results.size() ? "all openings" : text::join(marks);
    out += "  " + wrapped(fmt::format("{}{}{}   ({}; {})", a->what, a->value.empty() ? "" : " = ", a->value, a->why, where), 4) + "\n";
    std::vector<std::string> worse;
    for (const auto& o : otherwise) worse.push_back(o.value + ": " + state_and_ratio(o));
    if (!worse.empty()) out += "    " + wrapped("if wrong (" + otherwise.front().field + "), at worst  " + text::join(worse), 6) + "\n";
  }
  return out;
}

const OpeningResult* worst_of(const std::vector<OpeningResult>& results) {
  const OpeningResult* worst = nullptr;
  for (const auto& r : results)
    if (!worst || r.state > worst->state || (r.state == worst->state && r.ratio > worst->ratio)) worst = &r;
  return worst;
}

}  // namespace

std::string_view mark_of(State state) {
  switch (state) {
    case State::holds: return "[ok]";
    case State::short_: return "[NO]";
    case State::engineer: return "[!]";
    case State::not_shown: return "[?]";
    case State::not_applicable: return "[-]";
  }
  return "";
}

std::string check_text(const opening::Project& project, const std::vector<OpeningResult>& results, const ReportOptions& options) {
  std::string out = head(project, results.size() + options.not_read.size());
  std::size_t mark_width = 4;
  for (const auto& r : results) mark_width = std::max(mark_width, r.mark.size());
  for (const auto& mark : options.not_read) mark_width = std::max(mark_width, mark.size());
  for (const auto& r : results) opening_lines(r, mark_width, options, out);
  for (const auto& mark : options.not_read) out += fmt::format("  [--]  {:<{}}    --  not read: it has errors, see the messages\n", mark, mark_width);
  out += tally(results, options.not_read.size()) + "\n" + ranked_questions(results) + assumed_lines(results, options.verbose);
  if (const auto* worst = worst_of(results)) out += fmt::format("Next: jambcheck explain {} {}\n", worst->mark, options.file);
  out += "[ok] HOLDS  [NO] SHORT  [!] ENGINEER  [?] NOT SHOWN. Said of the fastening only; a calculation aid, not an approval.\n";
  return out;
}

/// What decides first; then, in the order of the graph, where its numbers come from.
std::string decider_first(const std::vector<rules::TraceLine>& lines, const rules::Rule& decider) {
  std::vector<rules::TraceLine> own, upstream;
  for (const auto& l : lines) (l.rule == &decider ? own : upstream).push_back(l);
  if (upstream.empty()) return rules::to_text(own);
  return rules::to_text(own) + "\n  ---- Where these numbers come from ----\n" + rules::to_text(upstream);
}

std::string explain_text(const OpeningResult& opening, const verdict::ConnectionResult& connection, const CheckResult& check, const ReportOptions& options) {
  const auto& j = check.judgement;
  std::string out = fmt::format("{}   {}\n  {}{}{}\n", check.address, rules::word(j.state), connection.name, connection.fastener.empty() ? "" : ", ", connection.fastener);
  out += fmt::format("  {}. The case that decides: {}.\n", check.rule->title, check.load_case);
  if (!std::isnan(j.ratio))
    out += fmt::format("  It asks for {} and there is {}: {} of what is there.\n", units::show(j.demand, check.unit, options.digits), units::show(j.capacity, check.unit, options.digits),
                       text::rounded(j.ratio, options.digits));
  if (!check.runner_up.empty()) out += fmt::format("  Next: {}, {}.\n", check.runner_up, text::rounded(check.runner_up_ratio, options.digits));
  if (const auto smaller = verdict::smaller_is_stronger(check.plan->set(), check))
    out += fmt::format("  A smaller one is stronger here: at {} in it uses {} of what is there. More steel is not more strength in this check.\n",
                       text::rounded(smaller->diameter, options.digits), text::rounded(smaller->ratio, options.digits));
  for (const auto& r : j.reasons) out += "  - " + wrapped(r.text, 4) + (r.clause.empty() ? "" : "   [" + r.clause + "]") + "\n";
  const rules::Evaluation replay(check.plan, *check.values);
  out += decider_first(rules::trace_check(replay, *check.plan->check_of(*check.rule), {options.digits}), *check.rule);
  out += fmt::format("\n  rests on {} rules; least known source: {} (seen: {})\n", check.plan->check_of(*check.rule)->rules.size(), check.weakest, table::word(check.evidence));
  out += fmt::format("  {} {}\n", rules::word(j.state), std::isnan(j.ratio) ? "" : text::rounded(j.ratio, options.digits));
  for (const auto& b : opening.by_others)
    if (b.id == connection.id) out += "\n  " + wrapped(verdict::by_others_text(b, options.digits), 4) + "\n";
  return out;
}

}  // namespace jambcheck::papers
