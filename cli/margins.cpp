// `jambcheck margins`: what may slip, and how far, before an opening stops holding.
#include "verdict/margins.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/commands.h"
#include "cli/project.h"

namespace jambcheck::cli {
namespace {

std::string text_of(const std::string& mark, const std::vector<verdict::Margin>& margins) {
  std::string out = fmt::format("{}: each by itself, everything else as given; found by trying, in steps of the tape.\n", mark);
  for (const auto& m : margins) {
    const std::string may = m.falls ? "down to" : "up to";
    const std::string end = m.beyond ? "as far as was tried" : "one step more fails " + m.stops_at;
    out += m.limit == m.now ? fmt::format("  {:<28} {:<12} no slack: {}\n", m.field, m.now, end) : fmt::format("  {:<28} {:<12} {} {:<12} {}\n", m.field, m.now, may, m.limit, end);
  }
  return out;
}

std::string json_of(const std::string& mark, const std::vector<verdict::Margin>& margins) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const auto& m : margins) list.push_back({{"field", m.field}, {"now", m.now}, {"limit", m.limit}, {"worse", m.falls ? "less" : "more"}, {"beyond", m.beyond}, {"stops_at", m.stops_at}});
  return nlohmann::ordered_json{{"format", "margins/1"}, {"mark", mark}, {"margins", list}}.dump(2) + "\n";
}

}  // namespace

Exit run_margins(Context& context, const std::string& mark, const std::string& file) {
  const auto one = load_opening(context, file, mark);
  if (!one) return one.problem;
  const auto* set = one.set;
  const auto& project = one.project;
  const opening::Opening* opening = one.opening;
  verdict::Checker checker(*set);
  const auto margins = verdict::margins(*project, *opening, [&](const opening::Project& p, const opening::Opening& o) { return checker.check(p, o); });
  if (context.options().json) return context.write(json_of(mark, margins));
  if (margins.empty()) {
    const auto now = checker.check(*project, *opening);
    return context.write(fmt::format("{} does not hold ({}): {}\nMargins are worked out for openings that hold.\n", mark, rules::word(now.state), now.why));
  }
  return context.write(text_of(mark, margins));
}

}  // namespace jambcheck::cli
