#include "papers/package_parts.h"

#include <algorithm>
#include <cmath>

#include "papers/schedule.h"
#include "text/suggest.h"
#include "threads/share_out.h"
#include "units/quantity.h"
#include "verdict/connection.h"
#include "verdict/demand.h"
#include "verdict/key_values.h"

namespace jambcheck::papers {

void PackagePart::section(const std::string& title, const std::string& anchor) {
  d_.add(document::PageBreak{});
  d_.add(document::Heading{1, title, anchor});
}

document::Cell PackagePart::page_cell(const std::string& anchor) {
  document::Cell c;
  c.page = anchor;
  return c;
}

std::string PackagePart::marks_text(const std::vector<std::string>& marks) const { return marks.size() == results_.size() && marks.size() > 1 ? "all" : text::join(marks); }

std::string PackagePart::size_of(const opening::Opening& o) { return said(o.facts, "width") + " x " + said(o.facts, "height"); }

std::string PackagePart::pressures(const Type& type) const {
  const opening::Project p = first_choices(project_);
  const opening::Opening o = first_choices(*type.worst().opening);
  std::string out;
  for (const auto& c : verdict::connections(p, o, set_)) {
    if (c.id != "LG") continue;
    for (const char* sign : {"inward", "outward"}) {
      const auto it = std::find_if(c.cases.begin(), c.cases.end(), [&](const auto& one) { return one.values.word("wind.sign") == sign; });
      if (it == c.cases.end()) continue;
      const rules::Case values = verdict::merged(c, *it);
      const double p_w = verdict::key_values(set_, checker_.plans(), values, {"wind.pressure"}).at("wind.pressure");
      const auto* key = set_.key("wind.pressure");
      out += (out.empty() ? "" : " / ") + (std::isnan(p_w) ? std::string("not known") : units::show(p_w, key->unit, options_.digits));
    }
    break;
  }
  return out.empty() ? "none" : out;
}

void PackagePart::draw_all() {
  drawn_->resize(types_.size());
  threads::for_each_index(types_.size(), options_.jobs, [&](std::size_t i) { (*drawn_)[i] = fastenings(project_, *types_[i].worst().opening, set_, checker_); });
}

std::string PackagePart::fastening_words(const verdict::OpeningResult& result) {
  std::vector<std::string> out;
  for (const auto& c : result.connections)
    if (!c.fastener.empty() && std::find(out.begin(), out.end(), c.fastener) == out.end()) out.push_back(c.fastener);
  return text::join(out);
}

}  // namespace jambcheck::papers
