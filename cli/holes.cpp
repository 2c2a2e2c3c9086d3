// `jambcheck holes`: where every hole of an opening falls, what is drilled, how long the fasteners are.
#include "cli/commands.h"
#include "cli/project.h"
#include "papers/hole_table.h"
#include "verdict/holes.h"

namespace jambcheck::cli {

Exit run_holes(Context& context, const std::string& mark, const std::string& file, bool csv) {
  const auto one = load_opening(context, file, mark);
  if (!one) return one.problem;
  const auto* set = one.set;
  const auto& project = one.project;
  const opening::Opening* opening = one.opening;
  verdict::Checker checker(*set);
  text::Diagnostics diagnostics;
  const auto list = verdict::hole_list(*project, *opening, *set, checker, diagnostics);
  const Exit written = context.write(context.options().json ? papers::holes_json(list) : csv ? papers::holes_csv(list) : papers::holes_text(list));
  context.report(diagnostics);
  return written;
}

}  // namespace jambcheck::cli
