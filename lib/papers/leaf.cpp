#include "papers/leaf.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "document/words.h"
#include "papers/card.h"
#include "units/quantity.h"
#include "verdict/demand.h"

namespace jambcheck::papers {
namespace {

using document::Cell;
using document::Document;
using document::kNoRatio;
using document::Paragraph;
using document::Sign;
using document::Style;
using document::Table;
using rules::CheckKind;
using rules::State;
using verdict::CheckResult;
using verdict::ConnectionResult;

bool same(double a, double b) { return a == b || (std::isnan(a) && std::isnan(b)); }

bool alike(const CheckResult& a, const CheckResult& b) {
  return a.rule == b.rule && a.load_case == b.load_case && a.clause == b.clause && a.judgement.state == b.judgement.state &&
         same(a.judgement.demand, b.judgement.demand) && same(a.judgement.capacity, b.judgement.capacity) &&
         same(a.judgement.ratio, b.judgement.ratio) && a.judgement.reasons == b.judgement.reasons;
}

bool alike(const ConnectionResult& a, const ConnectionResult& b) {
  if (a.fastener != b.fastener || a.state != b.state || a.links.size() != b.links.size() || a.reasons != b.reasons) return false;
  return std::equal(a.checks.begin(), a.checks.end(), b.checks.begin(), b.checks.end(), [](const auto& x, const auto& y) { return alike(x, y); });
}

/// The same checks, whatever their numbers.
bool same_checks(const ConnectionResult& a, const ConnectionResult& b) {
  return std::equal(a.checks.begin(), a.checks.end(), b.checks.begin(), b.checks.end(), [](const auto& x, const auto& y) { return x.rule == y.rule; });
}

bool is_gate(const CheckResult& k) { return k.rule->check->kind == CheckKind::gate; }

std::string link_of(const CheckResult& k) {
  const auto end = k.address.find_last_of('/'), start = k.address.find_last_of('/', end - 1);
  return k.address.substr(start + 1, end - start - 1);
}

/// "D-104/LG" of any of its checks.
std::string base_of(const ConnectionResult& c) {
  if (c.checks.empty()) return c.governs;
  const std::string& address = c.checks.front().address;
  return address.substr(0, address.find_last_of('/', address.find_last_of('/') - 1));
}

bool has_reason(const ConnectionResult& c, const rules::Reason& r) {
  return std::any_of(c.checks.begin(), c.checks.end(), [&](const auto& k) { return std::find(k.judgement.reasons.begin(), k.judgement.reasons.end(), r) != k.judgement.reasons.end(); });
}

std::string amount(double x, const CheckResult& k, int digits) { return is_gate(k) || std::isnan(x) ? "--" : units::show(x, k.unit, digits); }

}  // namespace

Cell ratio_cell(double ratio, bool counts, bool bar) {
  if (!counts || std::isnan(ratio)) return {"--"};
  return {document::ratio_text(ratio), Sign::none, bar && !std::isinf(ratio) ? ratio : kNoRatio};
}
Cell state_cell(State s) { return {std::string(rules::word(s)), sign_of(s)}; }
Cell strong_cell(const std::string& text, const std::string& link) { return {text, Sign::none, kNoRatio, link, true}; }

std::vector<Twins> twins_of(const verdict::OpeningResult& opening) {
  std::vector<Twins> out;
  for (const auto& c : opening.connections) {
    const auto it = std::find_if(out.begin(), out.end(), [&](const Twins& t) { return t.first->id.back() == c.id.back() && !t.also && alike(*t.first, c); });
    if (it != out.end()) {
      it->also = &c;
      continue;
    }
    const auto near = std::find_if(out.begin(), out.end(), [&](const Twins& t) { return t.first->id.back() == c.id.back() && same_checks(*t.first, c); });
    const ConnectionResult* like = near == out.end() ? nullptr : near->first;
    if (like) near->unlike = &c;
    out.push_back({&c, nullptr, like, nullptr});
  }
  return out;
}

std::string name_of(const Twins& twins) { return twins.also ? "left and " + twins.also->name : twins.first->name; }

std::string also_at(const Twins& twins, const CheckResult& check) {
  if (!twins.also) return "";
  return twins.also->checks[static_cast<std::size_t>(&check - twins.first->checks.data())].address;
}

std::vector<const CheckResult*> deciding(const ConnectionResult& connection) {
  std::vector<const CheckResult*> out;
  for (const auto& k : connection.checks) {
    if (is_gate(k)) continue;
    const CheckResult* worst = worst_strength(connection, link_of(k));
    const bool close = worst && !verdict::is_no_strength(*k.rule) && k.judgement.ratio >= kClose * worst->judgement.ratio && k.judgement.ratio > 0;
    const bool decides = k.address == connection.governs;
    if ((&k == worst && k.judgement.ratio > 0) || close || decides || k.judgement.state == State::short_) out.push_back(&k);
  }
  return out;
}

void add_links(const std::vector<Twins>& parts, const LeafOptions& options, Document& out) {
  const int digits = options.digits;
  Table t;
  t.head = {"link", "joins", "decided by", "demand", "capacity", "ratio", "state"};
  t.shares = {1.1, 1.6, 3.1, 0.9, 0.9, 0.85, 1.1};
  t.say = "links of the fastening";
  t.compact = true;
  for (const auto& part : parts)
    for (const auto& link : part.first->links) {
      const CheckResult* k = worst_strength(*part.first, link.id);
      for (const auto& c : part.first->checks)
        if (c.address == part.first->governs && link_of(c) == link.id && !is_gate(c)) k = &c;
      std::string address = base_of(*part.first) + "/" + link.id;
      if (part.also) address += "\n" + base_of(*part.also) + "/" + link.id;
      const bool counts = k && (link.state == State::holds || link.state == State::short_);
      t.rows.push_back({strong_cell(address), {name_of(part) + ": " + link.name},
                        k ? Cell{k->rule->title + "; " + k->load_case, Sign::none, kNoRatio, working_anchor(k->address)} : Cell{"--"},
                        {k ? amount(k->judgement.demand, *k, digits) : "--"}, {k ? amount(k->judgement.capacity, *k, digits) : "--"},
                        ratio_cell(k ? k->judgement.ratio : kNoRatio, counts, true), state_cell(link.state)});
      t.revised.push_back(k ? options.revision.at(k->address) : "");
      std::vector<std::string> anchors{"l-" + base_of(*part.first) + "/" + link.id};
      if (part.also) anchors.push_back("l-" + base_of(*part.also) + "/" + link.id);
      t.anchors.push_back(std::move(anchors));
    }
  if (!t.rows.empty()) out.add(t);
}

void add_checks(const Twins& twins, const LeafOptions& options, Document& out) {
  const ConnectionResult& c = *twins.first;
  const std::string base = base_of(c);
  std::string title = fmt::format("{}{}  {}, {}: {}", base, twins.also ? " and " + base_of(*twins.also) : "", name_of(twins), c.fastener.empty() ? "no fastener" : c.fastener, rules::word(c.state));
  if (twins.like) title += fmt::format("   (lines that are not here: as at {})", base_of(*twins.like));
  out.add(document::Heading{3, title, ""});
  for (const auto& reason : c.reasons) out.add(Paragraph{reason.text, Style::plain});
  const auto worked_out = deciding(c);
  Table t;
  t.head = {"check", "what", "demand", "capacity", "ratio", "state", "clause", "known by"};
  t.shares = {0.8, 3.5, 1, 1, 0.6, 1.3, 3, 1.2};
  t.say = "checks of the " + name_of(twins);
  t.compact = true;
  for (std::size_t i = 0; i < c.checks.size(); ++i) {
    const auto& k = c.checks[i];
    if (twins.like && alike(twins.like->checks[i], k)) continue;
    const bool leads = options.extent == Extent::all ? !is_gate(k) : std::find(worked_out.begin(), worked_out.end(), &k) != worked_out.end();
    const bool decides = options.extent == Extent::deciding && leads;
    // L1/W1: what stands before it is in the heading.
    Cell address{k.address.substr(base.size() + 1), Sign::none, kNoRatio, leads ? working_anchor(k.address) : "", decides};
    t.rows.push_back({address, {k.rule->title}, {amount(k.judgement.demand, k, options.digits)}, {amount(k.judgement.capacity, k, options.digits)},
                      ratio_cell(k.judgement.ratio, !is_gate(k), false), state_cell(k.judgement.state), {k.clause}, {std::string(table::word(k.evidence))}});
    std::vector<std::string> anchors{"t-" + k.address};
    if (const std::string also = also_at(twins, k); !also.empty()) anchors.push_back("t-" + also);
    if (twins.unlike && alike(twins.unlike->checks[i], k)) anchors.push_back("t-" + twins.unlike->checks[i].address);
    t.anchors.push_back(std::move(anchors));
    t.revised.push_back(options.revision.at(k.address));
  }
  if (!t.rows.empty()) out.add(t);
  for (const auto& k : c.checks)
    for (const auto& r : k.judgement.reasons)
      if (r.leads_to != State::holds && !(twins.like && has_reason(*twins.like, r))) out.add(Paragraph{fmt::format("{} {}: {}{}", k.address, rules::word(r.leads_to), r.text, r.clause.empty() ? "" : "  [" + r.clause + "]"), Style::small, ""});
}

void add_workings(const Twins& twins, const LeafOptions& options, Workings& workings, Document& out) {
  const auto add = [&](const CheckResult& k) { 
    const bool alone = options.extent == Extent::deciding && k.judgement.ratio < kClose * options.decisive;
    workings.add(k, also_at(twins, k), options.revision.at(k.address), alone, out);
  };
  if (options.extent == Extent::all)
    for (const auto& k : twins.first->checks) add(k);
  else
    for (const CheckResult* k : deciding(*twins.first)) add(*k);
}

}  // namespace jambcheck::papers
