// `jambcheck choose`: which fastenings hold at an opening, and why the others do not.
#include "cli/choose.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <filesystem>
#include <set>
#include <unordered_map>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "choose/alike.h"
#include "choose/cover.h"
#include "cli/commands.h"
#include "cli/progress.h"
#include "cli/project.h"
#include "opening/field.h"
#include "text/suggest.h"
#include "threads/share_out.h"

namespace jambcheck::cli {
namespace {

using choose::Found;
using choose::Prices;
using json = nlohmann::ordered_json;
using rules::State;

constexpr std::size_t kShown = 5;  // of those that hold, without --all

/// One part of one opening.
struct Looked {
  const opening::Opening* opening = nullptr;
  bool bracket = false;
  Found found;
  bool with_guide = false;  ///< the best guide stood in place while the brackets were tried
  std::string proof;        ///< what the whole opening comes to with the best of it
};

std::string part_of(bool bracket) { return bracket ? "bracket" : "guide"; }
std::string ratio_text(double ratio) { return std::isnan(ratio) ? "--" : fmt::format("{:.2f}", ratio); }

choose::By by_of(const std::string& word) {
  if (word == "size") return choose::By::size;
  if (word == "margin") return choose::By::margin;
  return word == "cost" ? choose::By::cost : choose::By::holes;
}

/// What of the space is wanted; nothing, and all problems told, when it can't be understood.
std::optional<choose::Narrow> narrow_of(Context& context, const rules::RuleSet& set, const ChooseArguments& arguments, const Prices& prices) {
  choose::Narrow out;
  text::Diagnostics diagnostics;
  for (const auto& text : arguments.kinds) {
    if (auto kind = choose::kind_named(set, text)) out.kinds.push_back(*kind);
    else diagnostics.add(kind.error().id, {}, kind.error().args);
  }
  const auto sizes = [&](const char* option, const std::vector<std::string>& texts, choose::Sizes& list) {
    for (const auto& text : texts) {
      if (const auto size = choose::size_or_range(set, text)) list.push_back(*size);
      else diagnostics.add(size.error().id, {}, {size.error().args[0], option});
    }
  };
  sizes("sizes", arguments.sizes, out.sizes);
  sizes("lengths", arguments.lengths, out.lengths);
  sizes("spacings", arguments.spacings, out.spacings);
  out.priced = arguments.priced;
  if (out.priced && !prices.any) diagnostics.add(text::MessageId::L037, {}, {});
  context.report(diagnostics);
  if (diagnostics.has_errors()) return std::nullopt;
  return out;
}

/// What all openings are looked at with.
struct Ask {
  const rules::RuleSet& set;
  const opening::Project& project;
  const ChooseArguments& arguments;
  const Prices& prices;
  const choose::Narrow& narrow;
};

std::vector<Looked> look_at(verdict::Checker& checker, verdict::Briefs& briefs, const Ask& ask, const opening::Opening& opening) {
  const auto& [set, project, arguments, prices, narrow] = ask;
  std::vector<Looked> out;
  opening::Opening now = opening;
  for (const bool bracket : {false, true}) {
    if (arguments.part != "both" && arguments.part != part_of(bracket)) continue;
    Looked looked;
    looked.opening = &opening;
    looked.bracket = bracket;
    looked.with_guide = bracket && !out.empty() && !out.front().found.holding.empty();
    looked.found = choose::find(checker, briefs, set, project, now, {bracket, sides_of(arguments.side), by_of(arguments.by), !arguments.group, narrow}, prices);
    if (!looked.found.holding.empty()) {
      now = choose::with(now, looked.found, looked.found.holding.front());
      const auto result = checker.check(project, now);
      looked.proof = fmt::format("{} {}", rules::word(result.state), ratio_text(result.ratio));
    }
    out.push_back(std::move(looked));
  }
  return out;
}

// ---- text
std::string line_of(const Looked& looked, std::size_t t, const Prices& prices) {
  const auto& found = looked.found;
  const auto& c = found.space.candidates[t];
  const double price = found.price_of(t, prices);
  const std::string cost = !prices.any ? "" : std::isnan(price) ? "   not in the price list" : fmt::format("   {:.2f}", price);
  return fmt::format("    {:<42} {:<44} {:>2} holes  {:>5}{}\n", found.space.items[c.item].text, found.space.layouts[c.layout].text, found.space.layouts[c.layout].holes, ratio_text(found.tried[t].ratio), cost);
}

std::string text_of(const Looked& looked, const ChooseArguments& arguments, const Prices& prices) {
  const auto& found = looked.found;
  std::string out = fmt::format("{} {}: tried {} of {}, {} hold{}\n", looked.opening->mark, part_of(looked.bracket), found.tried.size(), found.space.candidates.size(), found.holding.size(),
                                looked.with_guide ? ", with the guide's first one in place" : "");
  const std::size_t items = found.space.items.size(), layouts = found.space.layouts.size();
  out += fmt::format("  the space: {} in {}{}\n", items == 1 ? "1 fastener" : fmt::format("{} kinds and sizes of fasteners", items), layouts == 1 ? "1 layout" : fmt::format("{} layouts", layouts),
                     arguments.side == "both" ? ", both sides alike" : ", on the " + arguments.side);
  for (const auto& note : found.space.notes) out += "  note: " + note + "\n";
  for (std::size_t i = 0; i < found.holding.size() && (arguments.all || i < kShown); ++i) out += line_of(looked, found.holding[i], prices);
  if (!arguments.all && found.holding.size() > kShown) out += fmt::format("    ... {} more hold (--all)\n", found.holding.size() - kShown);
  if (!looked.proof.empty()) out += "  the opening with the first of them: " + looked.proof + "\n";
  for (const auto& group : found.refused) {
    const std::string ratios = std::isnan(group.least) ? "" : fmt::format(" ({} to {})", ratio_text(group.least), ratio_text(group.most));
    out += fmt::format("  refused {:>5}: {}{}\n", group.tried.size(), group.reason, ratios);
    for (std::size_t i = 0; arguments.all && i < group.tried.size(); ++i) out += line_of(looked, group.tried[i], prices);
  }
  for (const auto& help : found.help) out += "  help: " + help + "\n";
  return out;
}

// ---- JSON
json number(double value) { return std::isfinite(value) ? json(value) : json(nullptr); }

json fields_of(const Looked& looked, std::size_t t) {
  const auto& space = looked.found.space;
  const auto& c = space.candidates[t];
  json fields = json::object();
  const auto add = [&](const std::string& path, const opening::Fact& f) {
    if (f.kind == opening::Fact::Kind::number) fields[path] = {{"value", f.shown.from_canonical(f.value)}, {"unit", f.shown.name}};
    else if (f.kind == opening::Fact::Kind::list) fields[path] = {{"value", f.list}, {"unit", "in"}};
    else fields[path] = f.word;
  };
  for (const auto& [name, f] : space.items[c.item].facts) add(part_of(looked.bracket) + ".fastener." + name, f);
  for (const auto& [name, f] : space.layouts[c.layout].facts) add(part_of(looked.bracket) + "." + name, f);
  return fields;
}

json candidate_json(const Looked& looked, std::size_t t, const Prices& prices) {
  const auto& space = looked.found.space;
  const auto& c = space.candidates[t];
  json j = {{"fastener", space.items[c.item].text}, {"layout", space.layouts[c.layout].text}, {"holes", space.layouts[c.layout].holes},
            {"state", rules::word(looked.found.tried[t].state)}, {"ratio", number(looked.found.tried[t].ratio)}};
  if (prices.any) j["price"] = number(looked.found.price_of(t, prices));
  j["fields"] = fields_of(looked, t);
  return j;
}

json json_of(const Looked& looked, const ChooseArguments& arguments, const Prices& prices) {
  json holding = json::array(), refused = json::array();
  for (const std::size_t t : looked.found.holding) holding.push_back(candidate_json(looked, t, prices));
  for (const auto& group : looked.found.refused) {
    json j = {{"reason", group.reason}, {"count", group.tried.size()}, {"least_ratio", number(group.least)}, {"most_ratio", number(group.most)}};
    if (arguments.all)
      for (const std::size_t t : group.tried) j["candidates"].push_back(candidate_json(looked, t, prices));
    refused.push_back(std::move(j));
  }
  return {{"mark", looked.opening->mark}, {"part", part_of(looked.bracket)}, {"tried", looked.found.tried.size()}, {"space", looked.found.space.candidates.size()},
          {"notes", looked.found.space.notes}, {"holding", holding}, {"opening_with_first", looked.proof}, {"refused", refused}, {"help", looked.found.help}};
}

// ---- the fewest fastenings that serve all
/// What is kept of a part for that: its best layout with each fastening that holds.
struct Served {
  std::string where;  ///< "D-101 guide"
  std::string mark, part;
  struct Use {
    std::string item, layout;
    double ratio = 0;
    json candidate;  ///< where JSON is asked for
  };
  std::vector<Use> uses;  ///< the best fastening first
};

Served served_by(const Looked& looked, const Prices& prices, bool with_json) {
  Served out{looked.opening->mark + " " + part_of(looked.bracket), looked.opening->mark, part_of(looked.bracket), {}};
  std::set<std::size_t> seen;
  const auto& space = looked.found.space;
  for (const std::size_t t : looked.found.holding) {
    const auto& c = space.candidates[t];
    if (!seen.insert(c.item).second) continue;
    out.uses.push_back({space.items[c.item].text, space.layouts[c.layout].text, looked.found.tried[t].ratio, with_json ? candidate_json(looked, t, prices) : json()});
  }
  return out;
}

struct Shared {
  std::string item;
  std::vector<std::size_t> serves;         ///< places in the list of parts
  std::vector<const Served::Use*> uses;    ///< one a place
};

std::vector<Shared> items_that_hold(const std::vector<Served>& all) {
  std::vector<Shared> out;
  std::unordered_map<std::string, std::size_t> place;
  for (std::size_t e = 0; e < all.size(); ++e)
    for (const auto& use : all[e].uses) {
      const auto [it, is_new] = place.try_emplace(use.item, out.size());
      if (is_new) out.push_back({use.item, {}, {}});
      auto& shared = out[it->second];
      if (!shared.serves.empty() && shared.serves.back() == e) continue;
      shared.serves.push_back(e);
      shared.uses.push_back(&use);
    }
  return out;
}

Exit write_group(Context& context, const std::vector<Served>& all, bool narrowed) {
  const auto items = items_that_hold(all);
  std::vector<std::vector<std::size_t>> sets;
  for (const auto& item : items) sets.push_back(item.serves);
  const auto cover = choose::fewest(sets, all.size());
  std::vector<bool> served(all.size(), false);
  json list = json::array(), left = json::array();
  std::string out = fmt::format("{} different fastenings serve {} guides and brackets{}\n", cover.chosen.size(), all.size() - cover.left.size(),
                                cover.exact ? "; fewer do not" : "; the search was cut short, fewer may do");
  if (narrowed) out += "  note: only what was asked for was tried; others may serve more, or with fewer\n";
  for (const std::size_t s : cover.chosen) {
    out += "  " + items[s].item + "\n";
    json uses = json::array();
    for (std::size_t k = 0; k < items[s].serves.size(); ++k) {
      const std::size_t e = items[s].serves[k];
      if (served[e]) continue;  // an earlier one serves it already
      served[e] = true;
      out += fmt::format("    {:<18} {:<44} {:>5}\n", all[e].where, items[s].uses[k]->layout, ratio_text(items[s].uses[k]->ratio));
      uses.push_back({{"mark", all[e].mark}, {"part", all[e].part}, {"candidate", items[s].uses[k]->candidate}});
    }
    list.push_back({{"fastener", items[s].item}, {"uses", uses}});
  }
  for (const std::size_t e : cover.left) {
    out += fmt::format("  nothing tried holds for {} (jambcheck choose --only {})\n", all[e].where, all[e].mark);
    left.push_back({{"mark", all[e].mark}, {"part", all[e].part}});
  }
  if (context.options().json) return context.write(json{{"format", "choose-group/1"}, {"exact", cover.exact}, {"narrowed", narrowed}, {"fastenings", list}, {"not_served", left}}.dump(2) + "\n");
  return context.write(out);
}

/// What is kept of an opening that was looked at: a space of candidates is large.
struct Done {
  bool ready = false;
  bool missing = false;  ///< nothing holds for a part
  std::string text;
  std::vector<json> parts;
  std::vector<Served> served;
  std::size_t evaluations = 0;
};

Done keep(const std::vector<Looked>& all, const ChooseArguments& arguments, const Prices& prices, bool with_json) {
  Done out;
  out.ready = true;
  for (const auto& looked : all) {
    out.missing = out.missing || looked.found.holding.empty();
    out.evaluations += looked.found.evaluations;
    if (arguments.group) out.served.push_back(served_by(looked, prices, with_json));
    else if (with_json) out.parts.push_back(json_of(looked, arguments, prices));
    else out.text += text_of(looked, arguments, prices);
  }
  return out;
}

bool select(Context& context, const opening::Project& project, const std::vector<std::string>& only, std::vector<const opening::Opening*>& out) {
  for (const auto& mark : only)
    if (!find_opening(context, project, mark)) return false;
  for (const auto& o : project.openings)
    if ((only.empty() || std::find(only.begin(), only.end(), o.mark) != only.end()) && !o.broken && !project.broken) out.push_back(&o);
  return true;
}

/// All that are wanted, in their order, on as many threads as asked for; alike ones are looked at once. Ctrl-C leaves the
/// rest undone.
std::vector<Done> look_at_all(Context& context, const Ask& ask, const std::vector<const opening::Opening*>& wanted) {
  verdict::Checker checker(ask.set);
  std::vector<Done> done(wanted.size());
  const auto groups = choose::alike(wanted);
  Progress progress(!context.options().quiet);
  std::atomic<std::size_t> ready{0};
  threads::share_out(groups.size(), context.options().jobs, [&](threads::Turns& turns, std::size_t thread) {
    verdict::Briefs briefs(ask.set, checker.plans());
    while (const auto g = turns.next()) {
      if (StopOnAsking::asked()) return;
      auto looked = look_at(checker, briefs, ask, *wanted[groups[*g].front()]);
      for (const std::size_t i : groups[*g]) {
        for (auto& part : looked) part.opening = wanted[i];
        done[i] = keep(looked, ask.arguments, ask.prices, context.options().json);
      }
      ready += groups[*g].size();
      if (thread == 0) progress.show(ready, "openings", wanted.size());
    }
  });
  progress.clear();
  return done;
}

Exit write_all(Context& context, const std::vector<Done>& done, const ChooseArguments& arguments, bool narrowed, bool complete) {
  if (arguments.group) {
    if (!complete) return Exit::holds;
    std::vector<Served> all;
    for (const auto& one : done) all.insert(all.end(), one.served.begin(), one.served.end());
    return write_group(context, all, narrowed);
  }
  if (context.options().json) {
    json parts = json::array();
    for (const auto& one : done)
      for (const auto& part : one.parts) parts.push_back(part);
    json out = {{"format", "choose/1"}, {"parts", parts}};
    if (!complete) out["complete"] = false;
    return context.write(out.dump(2) + "\n");
  }
  std::string out;
  for (const auto& one : done) out += one.text;
  if (!complete) out += "Stopped before the end: other openings were not looked at.\n";
  return context.write(out + "Said of the fastening only, by the same checks as jambcheck check; a calculation aid, not an approval.\n");
}

}  // namespace

choose::Sides sides_of(const std::string& word) { return word == "left" ? choose::Sides::left : word == "right" ? choose::Sides::right : choose::Sides::both; }

std::optional<Prices> prices_of(Context& context, const opening::Project& project) {
  Prices prices;
  constexpr std::string_view kFiles = "prices.";
  for (const auto& [path, f] : project.facts) {
    if (path.compare(0, kFiles.size(), kFiles) != 0 || f.unknown) continue;
    const auto name = (std::filesystem::path(project.file).parent_path() / f.word).lexically_normal().generic_string();
    const auto* source = context.read(name);
    if (!source) return std::nullopt;
    text::Diagnostics diagnostics;
    for (const auto& problem : choose::read_prices(source->text, prices))
      diagnostics.add(text::MessageId::L031, {source, static_cast<std::uint32_t>(problem.line), 1, 0}, {problem.what});
    context.report(diagnostics);
    if (diagnostics.has_errors()) return std::nullopt;
  }
  return prices;
}

Exit run_choose(Context& context, const ChooseArguments& arguments) {
  const auto* set = context.rule_set();
  if (!set) return Exit::broken;
  Exit problem{};
  const auto project = load_project(context, *set, arguments.file, problem);
  if (!project) return problem;
  std::vector<const opening::Opening*> wanted;
  if (!select(context, *project, arguments.only, wanted)) return Exit::usage;
  if (wanted.empty()) return Exit::input;
  const auto prices = prices_of(context, *project);
  if (!prices) return context.unreadable() ? Exit::file : Exit::input;
  if (arguments.by == "cost" && !prices->any) {
    text::Diagnostics diagnostics;
    diagnostics.add(text::MessageId::L032, {}, {});
    context.report(diagnostics);
    return Exit::input;
  }
  const auto narrow = narrow_of(context, *set, arguments, *prices);
  if (!narrow) return Exit::usage;
  const StopOnAsking stop;
  const auto done = look_at_all(context, {*set, *project, arguments, *prices, *narrow}, wanted);
  const auto ready = static_cast<std::size_t>(std::count_if(done.begin(), done.end(), [](const Done& d) { return d.ready; }));
  const Exit written = write_all(context, done, arguments, narrow->any(), ready == done.size());
  if (written != Exit::holds) return written;
  if (ready != done.size()) {
    fmt::print(stderr, "stopped: {} of {} openings are done{}\n", ready, done.size(), arguments.group ? "; the fewest fastenings for all need all of them" : "");
    return Exit::stopped;
  }
  const bool missing = std::any_of(done.begin(), done.end(), [](const Done& d) { return d.missing; });
  return problem == Exit::input ? Exit::input : missing ? Exit::short_ : Exit::holds;
}

}  // namespace jambcheck::cli
