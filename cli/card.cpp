// `jambcheck card` and `jambcheck terms`: the card for the one who sets the fasteners.
#include "papers/card.h"

#include "cli/commands.h"
#include "cli/output.h"
#include "cli/project.h"
#include "units/quantity.h"
#include "verdict/margins.h"

namespace jambcheck::cli {
namespace {

/// How near to the edge a hole of the guide may come while everything else stays; NaN when it has no slack.
double no_drill_strip(verdict::Checker& checker, const opening::Project& project, const opening::Opening& opening) {
  const auto margins = verdict::margins(papers::first_choices(project), papers::first_choices(opening), [&](const opening::Project& p, const opening::Opening& o) { return checker.check(p, o); });
  for (const auto& m : margins)
    if (m.field == "guide.edge" && m.falls)
      if (const auto limit = units::parse_length(m.limit)) return limit->value;
  return verdict::kNotKnown;
}

papers::Sides sides_of(const std::string& word) { return word == "left" ? papers::Sides::left : word == "right" ? papers::Sides::right : papers::Sides::both; }

papers::Language language_of(const std::string& word) { return word == "es" ? papers::Language::spanish : word == "both" ? papers::Language::both : papers::Language::english; }

/// A card is for hands: only HOLDS gives instructions.
Exit exit_of(rules::State state) {
  switch (state) {
    case rules::State::holds: return Exit::holds;
    case rules::State::short_: return Exit::short_;
    default: return Exit::open;
  }
}

}  // namespace

Exit run_card(Context& context, const CardArguments& arguments) {
  Form form{};
  if (!form_of(context, {Form::html, Form::pdf, Form::text}, form)) return Exit::usage;
  const auto one = load_opening(context, arguments.file, arguments.mark);
  if (!one) return one.problem;
  const auto* set = one.set;
  const auto& project = one.project;
  const opening::Opening* opening = one.opening;
  papers::CardWords words(language_of(arguments.language));
  if (!arguments.terms.empty()) {
    const auto* source = context.read(arguments.terms);
    if (!source) return Exit::file;
    text::Diagnostics diagnostics;
    words.replace(*source, diagnostics);
    context.report(diagnostics);
    if (diagnostics.has_errors()) return Exit::input;
  }
  verdict::Checker checker(*set);
  const auto result = checker.check(*project, *opening);
  const auto all = papers::fastenings(*project, *opening, *set, checker);
  papers::CardOptions options{sides_of(arguments.side), paper_of(arguments.paper), verdict::kNotKnown};
  if (result.state == rules::State::holds) options.no_drill = no_drill_strip(checker, *project, *opening);
  const Exit written = write_document(context, papers::card(*project, *opening, result, all, words, options), form);
  return written == Exit::holds ? exit_of(result.state) : written;
}

Exit run_terms(Context& context) { return context.write(papers::CardWords::as_csv()); }

}  // namespace jambcheck::cli
