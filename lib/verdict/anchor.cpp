#include "verdict/anchor.h"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

#include "opening/anchor_data.h"

namespace jambcheck::verdict {
namespace {

using opening::AnchorData;
using opening::Fact;
using rules::Case;

class Collector {
 public:
  Collector(const opening::Project& project, const rules::RuleSet& set, const Case& values, std::string base)
      : project_(project), set_(set), values_(values), base_(std::move(base)) {}

  AnchorKeys without_data(const Fact* named) {
    if (named && named->unknown) out_.keys.emplace_back("anchor.data", *named);
    if (named && !named->unknown) word("anchor.data", "none");
    // Nothing is there that could have run out: only the data are asked for.
    word("anchor.size", "listed");
    word("anchor.expired", "no");
    word("anchor.edition", "fits");
    return std::move(out_);
  }
  AnchorKeys with(const AnchorData& data) {
    out_.note = whose(data);
    word("anchor.data", data.invented ? "invented" : "report");
    add_expiry(data);
    add_edition(data);
    add_figures(data);
    return std::move(out_);
  }

 private:
  void word(const std::string& key, const std::string& text) {
    Fact f;
    f.kind = Fact::Kind::word;
    f.word = text;
    out_.keys.emplace_back(key, std::move(f));
  }
  void open(const std::string& key) {
    Fact f;
    f.unknown = true;
    out_.keys.emplace_back(key, std::move(f));
  }
  static std::string whose(const AnchorData& data) {
    if (data.invented) return data.name + ": invented figures, no product stands behind them";
    const auto& day = *data.expires;
    return fmt::format("{}: report {}, edition {}, in force to {:04}-{:02}-{:02}; typed: {}", data.name, data.report, data.edition, day.year, day.month, day.day, data.from);
  }
  void add_expiry(const AnchorData& data) {
    if (data.invented) return word("anchor.expired", "no");
    const Fact* day = opening::fact(project_.facts, "project.date");
    const auto date = day && !day->unknown ? opening::parse_date(day->word) : tl::unexpected(text::Problem{});
    const auto gone = date ? opening::expired(data, *date) : std::nullopt;
    if (gone) word("anchor.expired", *gone ? "yes" : "no");
  }
  /// Only the editions of this base's standard count.
  void add_edition(const AnchorData& data) {
    const rules::Key* key = set_.key("basis." + base_);
    std::vector<std::string> of_base;
    for (const auto& edition : data.editions)
      if (key && key->canonical_word(edition)) of_base.push_back(edition);
    if (of_base.empty()) return word("anchor.edition", "not_stated");
    std::string job = values_.word("basis." + base_);
    if (job.empty() && !values_.says("basis." + base_)) job = key->assumed_word;
    if (!job.empty()) word("anchor.edition", std::find(of_base.begin(), of_base.end(), job) == of_base.end() ? "other" : "fits");
  }
  void add_figures(const AnchorData& data) {
    const double diameter = values_.number("fastener.diameter"), embedment = values_.number("fastener.embedment");
    if (std::isnan(diameter) || std::isnan(embedment)) return;
    const auto match = opening::find_size(data, {values_.word("fastener.kind"), diameter, embedment, base_, values_.word("masonry.kind"), values_.word("masonry.filled")});
    word("anchor.size", match.size || match.open ? "listed" : "not_listed");
    if (!match.size) return;
    const double known = values_.number("service.temperature");
    const auto temperature = std::isnan(known) ? std::nullopt : std::optional(known);
    const auto hot = opening::too_hot(*match.size, temperature);
    if (hot) word("anchor.temperature", *hot ? "too_hot" : "covered");
    else open("anchor.temperature");  // the bond hangs on it, not on more figures of the report
    for (auto& figure : opening::figures(*match.size, temperature)) out_.keys.push_back(std::move(figure));
  }

  const opening::Project& project_;
  const rules::RuleSet& set_;
  const Case& values_;
  std::string base_;
  AnchorKeys out_;
};

}  // namespace

AnchorKeys anchor_keys(const opening::Project& project, const opening::Opening& opening, const rules::RuleSet& set,
                       opening::Side side, const std::string& fastener, const Case& values) {
  const std::string base = values.word("base.material");
  if (base != "concrete" && base != "masonry") return {};
  const Fact* named = opening::fact(opening, fastener + ".data", side);
  Collector collector(project, set, values, base);
  const AnchorData* data = named && !named->unknown ? opening::find_data(project, named->word) : nullptr;
  return data ? collector.with(*data) : collector.without_data(named);
}

}  // namespace jambcheck::verdict
