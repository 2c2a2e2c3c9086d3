// Items x layouts of one part. Keys that an item changes and keys that a layout changes are found by building the case with
// each of them once; where the two touch the same key, each candidate is built by itself.
#include <algorithm>
#include <bit>
#include <map>
#include <optional>
#include <set>

#include "verdict/brief_memory.h"

namespace jambcheck::verdict {
namespace {

using rules::Case;
using rules::Given;

bool same(const Given& a, const Given& b) {
  return a.unknown == b.unknown && a.is_word == b.is_word && a.word == b.word && std::bit_cast<std::uint64_t>(a.value) == std::bit_cast<std::uint64_t>(b.value);
}

/// What differs from the first case: keys with their new value, or gone.
using Delta = std::vector<std::pair<const rules::Key*, std::optional<Given>>>;

constexpr std::size_t kNoKey = static_cast<std::size_t>(-1);

Delta delta_of(const Case& from, const Case& to) {
  Delta out;
  auto a = from.begin();
  auto b = to.begin();
  while (a != from.end() || b != to.end()) {
    const auto number_at = [](const Case& of, const Case::Iterator& it) { return it == of.end() ? kNoKey : (*it).key.number; };
    const std::size_t x = number_at(from, a), y = number_at(to, b);
    if (x < y) out.emplace_back(&(*a).key, std::nullopt);
    else if (y < x || !same((*a).given, (*b).given)) out.emplace_back(&(*b).key, (*b).given);
    if (x <= y) ++a;
    if (y <= x) ++b;
  }
  return out;
}

void apply(const Delta& delta, Case& values) {
  for (const auto& [key, given] : delta)
    if (given) values.set(*key, *given);
    else values.erase(*key);
}

void sign(const Delta& delta, std::string& out) {
  for (const auto& [key, given] : delta) {
    out += std::to_string(key->number);
    out += !given ? '-' : given->unknown ? '?' : '=';
    if (given && given->is_word && !given->unknown) out += given->word;
    out += ';';
  }
}

/// One link over all items and layouts.
struct Link {
  Connection first;                    ///< with the first item in the first layout
  std::vector<Delta> items, layouts;
  std::vector<Beside> beside_items, beside_layouts;
  std::vector<std::size_t> turns;      ///< of each layout
};

/// Numbers of a delta as a plan reads them.
using Numbers = std::vector<std::pair<std::size_t, std::uint64_t>>;

Numbers numbers_of(const rules::Plan& plan, const Delta& delta) {
  Numbers out;
  for (const auto& [key, given] : delta)
    if (const int source = plan.source_of(*key); source >= 0) {
      const auto s = static_cast<std::size_t>(source);
      out.emplace_back(s, std::bit_cast<std::uint64_t>(given ? rules::column_of(*given) : plan.sources()[s].assumed));
    }
  return out;
}

/// Items that lead to the same plan, those that it can't tell apart in one row.
struct Group {
  Shape* shape = nullptr;
  std::map<Numbers, std::size_t> rows;
  std::vector<std::pair<std::size_t, std::size_t>> row_of;  ///< item, row
};

std::vector<RowColumn> row_columns(const Group& group, const std::vector<double>& common) {
  std::map<std::size_t, std::size_t> place;
  std::vector<RowColumn> out;
  for (const auto& [numbers, row] : group.rows)
    for (const auto& [source, bits] : numbers) {
      const auto [it, is_new] = place.try_emplace(source, out.size());
      if (is_new) out.push_back({source, std::vector<double>(group.rows.size(), common[source])});
      out[it->second].values[row] = std::bit_cast<double>(bits);
    }
  return out;
}

bool touch(const Link& link) {
  std::set<const rules::Key*> by_item;
  for (const auto& d : link.items)
    for (const auto& change : d) by_item.insert(change.first);
  for (const auto& d : link.layouts)
    for (const auto& change : d)
      if (by_item.count(change.first) != 0) return true;
  const auto alike = [&](const std::vector<Beside>& all) { return std::all_of(all.begin(), all.end(), [&](const Beside& b) { return b == all.front(); }); };
  return !alike(link.beside_items) && !alike(link.beside_layouts);
}

/// The links with their deltas; empty where items and layouts can't be told apart.
std::vector<Link> links_with_deltas(const std::function<std::vector<Connection>(std::size_t, std::size_t)>& build, std::size_t items, std::size_t layouts) {
  std::vector<Link> out;
  for (auto& connection : build(0, 0)) {
    Link link;
    link.first = std::move(connection);
    out.push_back(std::move(link));
  }
  for (std::size_t l = 0; l < layouts; ++l) {
    const auto built = build(0, l);
    if (built.size() != out.size()) return {};
    for (std::size_t k = 0; k < out.size(); ++k) {
      out[k].layouts.push_back(delta_of(out[k].first.common, built[k].common));
      out[k].beside_layouts.emplace_back(built[k]);
      out[k].turns.push_back(built[k].turns);
    }
  }
  for (std::size_t i = 0; i < items; ++i) {
    const auto built = build(i, 0);
    if (built.size() != out.size()) return {};
    for (std::size_t k = 0; k < out.size(); ++k) {
      if (built[k].turns != out[k].first.turns) return {};
      out[k].items.push_back(delta_of(out[k].first.common, built[k].common));
      out[k].beside_items.emplace_back(built[k]);
    }
  }
  if (std::any_of(out.begin(), out.end(), touch)) return {};
  return out;
}

/// The first of each kind of keys and words, and of which kind each is.
struct Kinds {
  std::vector<std::size_t> first, of;
  explicit Kinds(const std::vector<Delta>& deltas) {
    std::map<std::string, std::size_t> known;
    for (std::size_t i = 0; i < deltas.size(); ++i) {
      std::string signature;
      sign(deltas[i], signature);
      const auto [it, is_new] = known.try_emplace(std::move(signature), first.size());
      if (is_new) first.push_back(i);
      of.push_back(it->second);
    }
  }
};

}  // namespace

std::vector<Brief> Briefs::candidates(const opening::Project& project, Part part, std::size_t items, std::size_t layouts, const Candidate& candidate) {
  std::vector<Brief> out(items * layouts);
  if (out.empty()) return out;
  const bool held = memory_->holds_loads;
  if (!held) hold_loads();
  LinkStarts starts;
  const auto build = [&](std::size_t i, std::size_t l) { return links_of(project, candidate(i, l), set_, part.side, part.bracket, Cases::none, &starts); };
  const auto links = links_with_deltas(build, items, layouts);
  if (links.empty())
    for (std::size_t l = 0; l < layouts; ++l)
      for (std::size_t i = 0; i < items; ++i) out[l * items + i] = this->part(project, candidate(i, l), part);
  for (std::size_t j = 0; j < links.size(); ++j) {
    const Link& link = links[j];
    const Kinds item_kinds(link.items), layout_kinds(link.layouts);
    const bool by_item = std::any_of(link.beside_items.begin(), link.beside_items.end(), [&](const Beside& b) { return !(b == link.beside_items.front()); });
    std::map<std::size_t, std::map<Shape*, Group>> groups;  // by kind of layout
    for (std::size_t l = 0; l < layouts; ++l) {
      Connection of_layout = link.first;
      of_layout.turns = link.turns[l];
      apply(link.layouts[l], of_layout.common);
      const auto& cases = cases_for(project, candidate(0, l), part, j, of_layout);
      const auto [at, is_new] = groups.try_emplace(layout_kinds.of[l]);
      if (is_new) {
        std::vector<Shape*> shapes;
        for (const std::size_t i : item_kinds.first) {
          Case values = of_layout.common;
          apply(link.items[i], values);
          shapes.push_back(&memory_->shapes.find(values, cases.front()));
        }
        for (std::size_t i = 0; i < items; ++i) {
          Shape* shape = shapes[item_kinds.of[i]];
          Group& group = at->second[shape];
          group.shape = shape;
          const auto numbers = shape->plan ? numbers_of(*shape->plan, link.items[i]) : Numbers();
          group.row_of.emplace_back(i, group.rows.try_emplace(numbers, group.rows.size()).first->second);
        }
      }
      for (auto& [shape, group] : at->second) {
        std::span<const Worst> worst;
        if (shape->plan) {
          const auto [columns, fresh] = memory_->columns.try_emplace({shape->plan.get(), &cases});
          if (fresh) columns->second = columns_of_cases(*shape->plan, cases);
          const auto common = rules::columns_of(*shape->plan, of_layout.common);
          worst = shape->run->run(shape->checks, common, row_columns(group, common), group.rows.size(), columns->second, false);
          evaluations_ += group.rows.size() * cases.size() * shape->checks.size();
        }
        const std::size_t checks = shape->checks.size();
        for (const auto& [item, row] : group.row_of)
          raise(out[l * items + item], brief_of_link(*shape, worst.subspan(row * checks, checks), by_item ? link.beside_items[item] : link.beside_layouts[l], link.first.link_id));
      }
    }
  }
  if (!held) release();
  return out;
}

}  // namespace jambcheck::verdict
