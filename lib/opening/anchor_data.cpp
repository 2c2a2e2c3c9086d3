// Reading anchor-data/1.
#include "opening/anchor_data.h"

#include <algorithm>
#include <cmath>

#include "opening/field_reader.h"
#include "opening/words.h"
#include "text/number.h"
#include "text/suggest.h"
#include "units/quantity.h"

namespace jambcheck::opening {
namespace {

using text::MessageId;
using yaml::Kind;
using yaml::Node;

constexpr std::string_view kSchema = "anchor-data/1";
constexpr std::string_view kFile = "a file of anchor data";
constexpr std::string_view kRow = "a row of sizes";

enum class In { any, concrete, masonry, bond };
enum class Sign { positive, not_negative, whole, word };

struct Column {
  std::string_view name;
  In in;
  Sign sign;
  std::string_view most, usual_least, usual_most;
};
constexpr Column kColumns[] = {
#define JAMBCHECK_ANCHOR_COLUMN(name, base, sign, most, usual_least, usual_most) \
  {name, In::base, Sign::sign, most, usual_least, usual_most},
#include "opening/anchor_fields.def"
#undef JAMBCHECK_ANCHOR_COLUMN
};

struct Order {
  std::string_view lesser, greater;
};
constexpr Order kOrders[] = {
#define JAMBCHECK_ANCHOR_ORDER(lesser, greater) {lesser, greater},
#include "opening/anchor_fields.def"
#undef JAMBCHECK_ANCHOR_ORDER
};

const Column* find_column(std::string_view name) {
  for (const auto& column : kColumns)
    if (column.name == name) return &column;
  return nullptr;
}

std::vector<std::string> names(std::initializer_list<std::string_view> first, bool bond) {
  std::vector<std::string> out(first.begin(), first.end());
  for (const auto& column : kColumns)
    if ((column.in == In::bond) == bond) out.emplace_back(column.name);
  return out;
}

std::string key_of_column(std::string_view name) { return "anchor." + std::string(name); }

class Reader {
 public:
  Reader(const text::SourceFile& file, const rules::RuleSet& rules, text::Diagnostics& diagnostics)
      : file_(file), rules_(rules), diagnostics_(diagnostics), fields_(rules, diagnostics) {}

  std::shared_ptr<const AnchorData> run() {
    const std::size_t earlier = diagnostics_.count(text::Severity::error);
    const std::vector<Node> documents = yaml::parse(file_, diagnostics_);
    data_.place = {&file_, 0, 0, 0};
    if (documents.size() > 1) diagnostics_.add(MessageId::A002, documents[1].place, {file_.name, "a second document begins here"});
    if (!documents.empty() && is_ours(documents[0])) read_root(documents[0]);
    else if (documents.empty() && diagnostics_.count(text::Severity::error) == earlier) diagnostics_.add(MessageId::A002, data_.place, {file_.name, "it is empty"});
    if (diagnostics_.count(text::Severity::error) != earlier) return nullptr;
    return std::make_shared<const AnchorData>(std::move(data_));
  }

 private:
  bool is_ours(const Node& root) {
    const Node* schema = root.find("schema");
    if (schema && schema->is_scalar() && text::trim(schema->text) == kSchema) return true;
    diagnostics_.add(MessageId::A002, schema ? schema->place : data_.place, {file_.name, schema && schema->is_scalar() ? "its schema is " + schema->text : "it names no schema"});
    return false;
  }
  void read_root(const Node& root) {
    yaml::check_keys(root, {"schema", "name", "kind", "invented", "report", "edition", "expires", "editions", "bases", "from", "common", "sizes", "note"}, kFile, diagnostics_);
    if (const Node* name = yaml::need(root, "name", Kind::scalar, kFile, diagnostics_)) data_.name = std::string(text::trim(name->text));
    if (const Node* kind = yaml::need(root, "kind", Kind::scalar, kFile, diagnostics_)) data_.kind = word(*kind, "kind", word_list("own:fastener_kind", rules_), "kind of fastener");
    read_origin(root);
    read_bases(root);
    read_editions(root);
    if (const Node* common = yaml::may(root, "common", Kind::map, kFile, diagnostics_)) {
      yaml::check_keys(*common, names({"tau_cr", "tau_uncr"}, false), "common", diagnostics_);
      read_columns(*common, "common", In::any, common_);
    }
    const Node* sizes = yaml::need(root, "sizes", Kind::sequence, kFile, diagnostics_);
    if (!sizes) return;
    if (sizes->items.empty()) diagnostics_.add(MessageId::Y004, sizes->place, {"sizes", "a row"});
    for (const auto& item : sizes->items) read_size(item);
  }

  // ---- where the figures come from
  std::string field(const Node& root, std::string_view name) {
    const Node* node = yaml::may(root, name, Kind::scalar, kFile, diagnostics_);
    return node ? std::string(text::trim(node->text)) : std::string();
  }
  void read_origin(const Node& root) {
    if (const Node* invented = yaml::may(root, "invented", Kind::scalar, kFile, diagnostics_))
      data_.invented = word(*invented, "invented", word_list("own:yes_no", rules_), "whether no report stands behind the figures") == "yes";
    data_.report = field(root, "report");
    data_.edition = field(root, "edition");
    data_.from = field(root, "from");
    if (const Node* day = yaml::may(root, "expires", Kind::scalar, kFile, diagnostics_)) {
      if (const auto date = parse_date(day->text)) data_.expires = *date;
      else fields_.report(date.error(), *day, "expires");
    }
    std::vector<std::string> missing;
    for (const char* name : {"report", "edition", "expires", "from"}) {
      const Node* node = root.find(name);
      const bool of_report = std::string_view(name) != "from";  // who invented them may be told
      if (data_.invented && node && of_report) diagnostics_.add(MessageId::A010, node->place, {name});
      if (!data_.invented && !node) missing.emplace_back(name);
    }
    if (!missing.empty()) diagnostics_.add(MessageId::A009, root.place, {text::join(missing)});
  }
  void read_bases(const Node& root) {
    const Node* bases = yaml::need(root, "bases", Kind::sequence, kFile, diagnostics_);
    if (!bases) return;
    WordList list;
    list.words = {"concrete", "masonry"};
    for (const auto& item : bases->items)
      if (const std::string base = word(item, "bases", list, "what the anchor goes into"); !base.empty()) data_.bases.push_back(base);
  }
  void read_editions(const Node& root) {
    const Node* editions = yaml::may(root, "editions", Kind::sequence, kFile, diagnostics_);
    if (!editions) return;
    WordList list;
    for (const char* key : {"key:basis.concrete", "key:basis.masonry"}) {
      const WordList own = word_list(key, rules_);
      list.words.insert(list.words.end(), own.words.begin(), own.words.end());
      list.open = list.open || own.open;
    }
    for (const auto& item : editions->items)
      if (const std::string edition = word(item, "editions", list, "edition of the concrete or masonry standard"); !edition.empty()) data_.editions.push_back(edition);
  }

  // ---- values
  std::string word(const Node& node, const std::string& label, const WordList& list, const std::string& say) {
    const std::string written(text::trim(node.text));
    std::string out = node.is_scalar() ? choose(list, written) : std::string();
    if (out.empty()) diagnostics_.add(MessageId::K003, node.place, {label, node.is_scalar() ? written : std::string(yaml::word(node.kind)), suggest_word(list, written), say});
    return out;
  }
  std::optional<Fact> number(const Node& node, const std::string& label, const units::Unit& unit) {
    if (!node.is_scalar()) {
      diagnostics_.add(MessageId::K004, node.place, {label, "one value", std::string(yaml::word(node.kind)), "a number with its unit"});
      return std::nullopt;
    }
    const bool pure = unit.dimension == units::Dimension();
    auto quantity = units::parse_quantity(node.text, pure ? units::Bare::pure_number : units::Bare::refuse);
    const std::string sample = pure ? "a number such as 0.5" : "a number in " + unit.name;
    if (!quantity) {
      text::Problem problem = quantity.error();
      if (problem.id == MessageId::U010 && problem.args.size() > 1) problem.args[1] = unit.name;
      fields_.report(std::move(problem), node, label, sample);
      return std::nullopt;
    }
    const auto value = units::convert(*quantity, unit.dimension, label);
    if (!value) {
      fields_.report(value.error(), node, label, sample);
      return std::nullopt;
    }
    return number_fact(*value, quantity->shown, node.place);
  }
  void read_columns(const Node& map, const std::string& where, In base, Facts& out) {
    for (const auto& entry : map.entries) {
      const Column* column = find_column(entry.key.text);
      if (!column) continue;  // finds the row, or has been reported
      const std::string label = where + ": " + entry.key.text;
      if (column->in == In::bond && base != In::bond) diagnostics_.add(MessageId::A007, entry.key.place, {label});
      else if (base != In::any && base != In::bond && column->in != In::any && column->in != base)
        diagnostics_.add(MessageId::A006, entry.key.place, {label, base == In::concrete ? "masonry" : "concrete", base == In::concrete ? "concrete" : "masonry"});
      else read_column(*column, entry.value, label, out);
    }
  }
  void read_column(const Column& column, const Node& node, const std::string& label, Facts& out) {
    const rules::Key* key = rules_.key(key_of_column(column.name));
    if (!key) return;
    if (column.sign == Sign::word) {
      const std::string chosen = word(node, label, word_list("key:" + key->name, rules_), key->say);
      if (!chosen.empty()) out[std::string(column.name)] = word_fact(chosen, Fact::Kind::word, node.place);
      return;
    }
    const auto f = number(node, label, key->unit);
    if (!f || !is_possible(column, *f, node, label)) return;
    check_usual(column, *f, node, label);
    out[std::string(column.name)] = *f;
  }
  bool is_possible(const Column& column, const Fact& f, const Node& node, const std::string& label) {
    const std::string written(text::trim(node.text));
    const auto refuse = [&](MessageId id, text::Args args) { return diagnostics_.add(id, node.place, args), false; };
    if (column.sign == Sign::whole && (f.value < 1 || f.value != std::floor(f.value))) return refuse(MessageId::K033, {label, written});
    if (column.sign == Sign::positive && f.value <= 0) return refuse(MessageId::K005, {label, written});
    if (f.value < 0) return refuse(MessageId::K042, {label, written});
    if (!column.most.empty() && f.value > units::parse_quantity(column.most)->value) return refuse(MessageId::A003, {label, written, std::string(column.most)});
    return true;
  }
  void check_usual(const Column& column, const Fact& f, const Node& node, const std::string& label) {
    const std::string written(text::trim(node.text));
    if (!column.usual_least.empty() && f.value < units::parse_quantity(column.usual_least)->value)
      diagnostics_.add(MessageId::K023, node.place, {label, written, "less than " + std::string(column.usual_least)});
    if (!column.usual_most.empty() && f.value > units::parse_quantity(column.usual_most)->value)
      diagnostics_.add(MessageId::K023, node.place, {label, written, "more than " + std::string(column.usual_most)});
  }

  // ---- rows
  void read_size(const Node& item) {
    const std::string where = "row " + std::to_string(++rows_);
    AnchorSize size;
    size.place = item.place;
    if (!item.is_map()) {
      diagnostics_.add(MessageId::K004, item.place, {where, "a map", std::string(yaml::word(item.kind)), "- {diameter: 1/2\", embedment: 3\", ...}"});
      return;
    }
    // The bond columns are let through here: their own message says where they stand.
    yaml::check_keys(item, names({"diameter", "embedment", "base", "unit", "fill", "bond", "tau_cr", "tau_uncr"}, false), kRow, diagnostics_);
    const bool sized = read_length(item, "diameter", where, size.diameter) & read_length(item, "embedment", where, size.embedment);
    const bool based = read_base(item, where, size);
    if (based) read_columns(item, where, size.base == "concrete" ? In::concrete : In::masonry, size.values);
    add_common(size);
    if (const Node* bond = yaml::may(item, "bond", Kind::sequence, kRow, diagnostics_)) read_bond(*bond, where, size);
    note_pullout(size);
    check_order(size, where);
    if (sized && based) keep(std::move(size), where);
  }
  bool read_length(const Node& item, std::string_view name, const std::string& where, Fact& out) {
    const Node* node = yaml::need(item, name, Kind::scalar, kRow, diagnostics_);
    if (!node) return false;
    const std::string label = where + ": " + std::string(name);
    const auto f = number(*node, label, *units::parse_unit("in"));
    if (!f) return false;
    if (f->value <= 0) return diagnostics_.add(MessageId::K005, node->place, {label, node->text}), false;
    out = *f;
    return true;
  }
  bool read_base(const Node& item, const std::string& where, AnchorSize& size) {
    const Node* base = item.find("base");
    WordList list;
    list.words = data_.bases;
    if (base) size.base = word(*base, where + ": base", list, "one of bases:");
    else if (data_.bases.size() == 1) size.base = data_.bases.front();
    else if (!data_.bases.empty()) diagnostics_.add(MessageId::Y004, item.place, {std::string(kRow), "base"});
    if (size.base == "masonry") {
      size.unit = masonry_word(item, "unit", where, size);
      size.fill = masonry_word(item, "fill", where, size);
      return !size.unit.empty() && !size.fill.empty();
    }
    for (const char* name : {"unit", "fill"})
      if (const auto* entry = item.find_entry(name); entry && !size.base.empty()) diagnostics_.add(MessageId::A006, entry->key.place, {where + ": " + name, "masonry", "concrete"});
    return !size.base.empty();
  }
  std::string masonry_word(const Node& item, const std::string& name, const std::string& where, AnchorSize& size) {
    const Node* node = yaml::need(item, name, Kind::scalar, kRow, diagnostics_);
    if (!node) return "";
    std::string out = word(*node, where + ": " + name, word_list("key:anchor.masonry_" + name, rules_), name == "unit" ? "kind of masonry" : "what is in the cells");
    if (!out.empty()) size.values["masonry_" + name] = word_fact(out, Fact::Kind::word, node->place);
    return out;
  }
  /// What stands under common: holds for every row that it fits and that does not say it itself.
  void add_common(AnchorSize& size) const {
    for (const auto& [name, f] : common_) {
      const In in = find_column(name)->in;
      if (in == In::any || (in == In::concrete) == (size.base == "concrete")) size.values.emplace(name, f);
    }
  }
  void read_bond(const Node& list, const std::string& where, AnchorSize& size) {
    if (size.base == "masonry") diagnostics_.add(MessageId::A006, list.place, {where + ": bond", "concrete", "masonry"});
    for (const auto& item : list.items) {
      if (!item.is_map()) {
        diagnostics_.add(MessageId::K004, item.place, {where + ": bond", "a map", std::string(yaml::word(item.kind)), "- {to: 110 degF, tau_cr: 300 psi, tau_uncr: 600 psi}"});
        continue;
      }
      BondRow row;
      row.place = item.place;
      yaml::check_keys(item, names({"to"}, true), "a row of bond", diagnostics_);
      const Node* to = yaml::need(item, "to", Kind::scalar, "a row of bond", diagnostics_);
      const auto f = to ? number(*to, where + ": bond to", *units::parse_unit("degF")) : std::nullopt;
      read_columns(item, where, In::bond, row.values);
      if (!f) continue;
      row.to = f->value;
      if (!size.bond.empty() && row.to <= size.bond.back().to) diagnostics_.add(MessageId::A005, to->place, {where + ": bond to", to->text});
      check_order_in(row.values, where);
      size.bond.push_back(std::move(row));
    }
  }
  /// A figure for pullout says that pullout has one.
  static void note_pullout(AnchorSize& size) {
    for (const char* name : {"N_p_cr", "N_p_uncr"})
      if (const auto it = size.values.find(name); it != size.values.end()) size.values.emplace("pullout", word_fact("given", Fact::Kind::word, it->second.place));
  }
  void check_order(const AnchorSize& size, const std::string& where) {
    Facts all = size.values;
    if (size.diameter.value > 0) all["diameter"] = size.diameter;
    if (size.embedment.value > 0) all["embedment"] = size.embedment;
    check_order_in(all, where);
  }
  void check_order_in(const Facts& facts, const std::string& where) {
    for (const auto& order : kOrders) {
      const Fact *lesser = fact(facts, order.lesser), *greater = fact(facts, order.greater);
      if (!lesser || !greater || greater->value >= lesser->value) continue;
      auto& d = diagnostics_.add(MessageId::A004, greater->place, {where + ": " + std::string(order.greater), units::show(greater->value, greater->shown), std::string(order.lesser), units::show(lesser->value, lesser->shown)});
      d.other = lesser->place;
      d.other_note = "the other one";
    }
  }
  void keep(AnchorSize size, const std::string& where) {
    for (const auto& other : data_.sizes) {
      if (!same_value(other.diameter, size.diameter) || !same_value(other.embedment, size.embedment)) continue;
      if (other.base != size.base || other.unit != size.unit || other.fill != size.fill) continue;
      auto& d = diagnostics_.add(MessageId::A011, size.place, {where, size_text(size)});
      d.other = other.place;
      d.other_note = "the first of the two";
      return;
    }
    data_.sizes.push_back(std::move(size));
  }

  const text::SourceFile& file_;
  const rules::RuleSet& rules_;
  text::Diagnostics& diagnostics_;
  FieldReader fields_;
  AnchorData data_;
  Facts common_;
  std::size_t rows_ = 0;
};

}  // namespace

bool is_anchor_data(const text::SourceFile& file) {
  text::Diagnostics unheard;
  const std::vector<Node> documents = yaml::parse(file, unheard);
  const Node* schema = documents.empty() ? nullptr : documents[0].find("schema");
  constexpr std::string_view kName = kSchema.substr(0, kSchema.find('/'));
  return schema && schema->is_scalar() && text::trim(schema->text).substr(0, kName.size()) == kName;
}

std::shared_ptr<const AnchorData> read_anchor_data(const text::SourceFile& file, const rules::RuleSet& rules, text::Diagnostics& diagnostics) {
  return Reader(file, rules, diagnostics).run();
}

}  // namespace jambcheck::opening
