#pragma once
// Files of anchor data (anchor-data/1): the figures of an evaluation report, typed by somebody who has it. What may
// stand in them is listed in anchor_fields.def.
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "opening/date.h"
#include "opening/model.h"

namespace jambcheck::opening {

/// Bond strength up to a temperature of the base.
struct BondRow {
  double to = 0;  ///< degF
  Facts values;   ///< "tau_cr", "tau_uncr": psi
  text::Place place;
};

/// One row: an anchor of this diameter and embedment in this base.
struct AnchorSize {
  Fact diameter, embedment;  ///< in
  std::string base;          ///< concrete or masonry
  std::string unit, fill;    ///< of masonry: words of anchor.masonry_unit and anchor.masonry_fill
  Facts values;              ///< column -> number or word, what is common to all rows included
  std::vector<BondRow> bond;  ///< by temperature, the coolest first
  text::Place place;
};

struct AnchorData {
  std::string name;
  std::string kind;  ///< a word of fastener.kind
  bool invented = false;
  std::string report, edition, from;
  std::optional<Date> expires;
  std::vector<std::string> editions;  ///< of the standards that the report was made for: aci318-19, tms402-16 ...
  std::vector<std::string> bases;
  std::vector<AnchorSize> sizes;
  text::Place place;
};

/// Whether the file says that it holds anchor data, of whatever version.
bool is_anchor_data(const text::SourceFile& file);

/// Reads a file of anchor data; all of its problems are reported. Null when there was an error. Units and words are
/// those of the keys anchor.* of `rules`.
std::shared_ptr<const AnchorData> read_anchor_data(const text::SourceFile& file, const rules::RuleSet& rules,
                                                   text::Diagnostics& diagnostics);

/// Written for `data:` where there is no report at all.
constexpr std::string_view kNoData = "none";

/// The data of that name among the project's, or null.
const AnchorData* find_data(const Project& project, std::string_view name);

/// What a row is looked for by. Words that are not known are empty.
struct AnchorQuery {
  std::string kind;
  double diameter = 0, embedment = 0;  ///< in
  std::string base;
  std::string unit;    ///< of masonry: what the wall is built of
  std::string filled;  ///< of masonry: yes or no
};

struct AnchorMatch {
  const AnchorSize* size = nullptr;
  bool open = false;  ///< no row yet: something of the query is not known, and rows differ by it
  std::string why;    ///< why there is no row, and which there are
};
/// The row of exactly this size: nothing is read between rows.
AnchorMatch find_size(const AnchorData& data, const AnchorQuery& query);

/// The figures of a row by key: "anchor.c_min" -> 1.75 in. Bond strengths are those of the temperature; none are given
/// when it is not known or more than the hottest row.
std::vector<std::pair<std::string, Fact>> figures(const AnchorSize& size, std::optional<double> temperature);

/// Whether the base is hotter than any row of bond strength; empty when the temperature is not known.
std::optional<bool> too_hot(const AnchorSize& size, std::optional<double> temperature);

/// Whether the report had run out on that day; the last day still counts. Empty when the file does not say when it ends.
std::optional<bool> expired(const AnchorData& data, const Date& day);

/// "1/2\" x 3 1/4\"", as it was written.
std::string size_text(const AnchorSize& size);

}  // namespace jambcheck::opening
