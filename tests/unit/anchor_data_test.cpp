// Reading of anchor data, and finding the row of an anchor.
#include <gtest/gtest.h>

#include <algorithm>

#include "opening/anchor_data.h"
#include "support/shipped.h"

namespace jambcheck::opening {
namespace {

using text::MessageId;

constexpr const char* kHead = "schema: anchor-data/1\nname: TRY\nkind: screw_anchor\ninvented: yes\nbases: [concrete, masonry]\n";

class AnchorDataTest : public Shipped {
 protected:
  struct Reading {
    text::Diagnostics diagnostics;
    std::shared_ptr<const AnchorData> data;
    [[nodiscard]] std::string text() const { return text::render(diagnostics); }
    [[nodiscard]] std::vector<MessageId> ids() const {
      std::vector<MessageId> out;
      for (const auto& d : diagnostics.all()) out.push_back(d.id);
      return out;
    }
  };
  static Reading read(std::string content) {
    static text::SourceSet sources;
    Reading out;
    out.data = read_anchor_data(*sources.add("try.yaml", std::move(content)), *set_, out.diagnostics);
    return out;
  }
  /// The head and these rows.
  static Reading rows(const std::string& lines) { return read(std::string(kHead) + "sizes:\n" + lines); }
  static double figure(const AnchorSize& size, std::string_view key, std::optional<double> temperature = {}) {
    for (const auto& [name, f] : figures(size, temperature))
      if (name == key) return f.value;
    return std::numeric_limits<double>::quiet_NaN();
  }
  static std::shared_ptr<const AnchorData> shipped(const std::string& name) {
    const auto path = "cases/anchor_data/" + name + ".yaml";
    auto out = read(content_of(path));
    EXPECT_EQ(out.text(), "") << path;
    EXPECT_NE(out.data, nullptr) << path;
    return out.data;
  }
};

TEST_F(AnchorDataTest, AllShippedFilesReadWithoutARemarkAndAreInvented) {
  for (const char* name : {"wedge", "screw", "adhesive", "sleeve"}) {
    const auto data = shipped(name);
    ASSERT_NE(data, nullptr);
    EXPECT_TRUE(data->invented) << name;
    EXPECT_TRUE(data->report.empty()) << name;
    EXPECT_FALSE(data->sizes.empty()) << name;
  }
}

TEST_F(AnchorDataTest, EveryKeyOfTheRulesIsAColumnOrIsSetBesideThem) {
  const std::vector<std::string> beside = {"anchor.data", "anchor.size", "anchor.expired", "anchor.edition", "anchor.temperature", "anchor.masonry_unit", "anchor.masonry_fill"};
  for (const auto& [name, key] : set_->keys()) {
    if (name.rfind("anchor.", 0) != 0 || !key.producers.empty() || std::find(beside.begin(), beside.end(), name) != beside.end()) continue;
    const bool bond = name.find("tau_cr") != std::string::npos || name.find("tau_uncr") != std::string::npos;
    const auto out = rows("  - {diameter: 1/2 in, embedment: 3 in, base: concrete, " + name.substr(7) + ": what}\n");
    const auto ids = out.ids();
    EXPECT_EQ(std::count(ids.begin(), ids.end(), MessageId::Y003), 0) << name << "\n" << out.text();
    EXPECT_EQ(std::count(ids.begin(), ids.end(), MessageId::A007), bond ? 1 : 0) << name;
  }
}

TEST_F(AnchorDataTest, MetricFiguresAreTheSameAnchor) {
  const auto us = rows("  - {diameter: 1/2 in, embedment: 3-1/4 in, base: concrete, N_p_cr: 3000 lbf, k_cr: 17 lbf/psi^(1/2)/in^(3/2)}\n");
  const auto si = rows("  - {diameter: 12.7 mm, embedment: 82.55 mm, base: concrete, N_p_cr: 13.3446648456 kN, k_cr: 17 lbf/psi^(1/2)/in^(3/2)}\n");
  ASSERT_NE(us.data, nullptr) << us.text();
  ASSERT_NE(si.data, nullptr) << si.text();
  EXPECT_DOUBLE_EQ(us.data->sizes[0].diameter.value, si.data->sizes[0].diameter.value);
  EXPECT_NEAR(figure(us.data->sizes[0], "anchor.N_p_cr"), figure(si.data->sizes[0], "anchor.N_p_cr"), 1e-6);
  EXPECT_EQ(size_text(us.data->sizes[0]), "1/2\" x 3 1/4\"");
  EXPECT_EQ(size_text(si.data->sizes[0]), "12.7 mm x 82.55 mm");
}

TEST_F(AnchorDataTest, AFactorOfAMetricTableIsConverted) {
  const auto out = rows("  - {diameter: 12 mm, embedment: 70 mm, base: concrete, k_cr: 7 N/MPa^(1/2)/mm^(3/2)}\n");
  ASSERT_NE(out.data, nullptr) << out.text();
  // 7 N/(MPa^(1/2) mm^(3/2)) = 7 / 4.4482216 * 0.0830461 * 128.0165 = 16.73 in inch-pound units (own arithmetic)
  EXPECT_NEAR(figure(out.data->sizes[0], "anchor.k_cr"), 16.73, 0.01);
}

TEST_F(AnchorDataTest, AFactorWithoutUnitIsRefused) {
  const auto out = rows("  - {diameter: 1/2 in, embedment: 3 in, base: concrete, k_cr: 7}\n");
  EXPECT_EQ(out.ids(), std::vector<MessageId>{MessageId::U010}) << out.text();
  EXPECT_EQ(out.data, nullptr);
}

TEST_F(AnchorDataTest, AllProblemsAreToldAtOnce) {
  const auto out = rows(
      "  - {diameter: 1/2 in, embedment: 3 in, base: concrete, N_p_cr: 3000 lbf, N_p_uncr: 2000 lbf, c_min: 0 in, tau_eq_factor: 1.2}\n"
      "  - {diameter: 1/2 in, embedment: 3 in, base: concrete, masonry_T: 500 lbf, catgory: 1}\n"
      "  - {diameter: 3 in, embedment: 1/2 in, base: wood}\n");
  const std::vector<MessageId> wanted = {MessageId::K005, MessageId::A003, MessageId::A004, MessageId::Y003, MessageId::A006, MessageId::A011, MessageId::K003, MessageId::A004};
  EXPECT_EQ(out.ids(), wanted) << out.text();
}

TEST_F(AnchorDataTest, WhatIsCommonCountsForEveryRowThatItFits) {
  const auto out = read(std::string(kHead) +
                        "common: {category: 2, c_min: 3 in, f_m_min: 1500 psi}\nsizes:\n"
                        "  - {diameter: 1/2 in, embedment: 3 in, base: concrete, c_min: 2 in}\n"
                        "  - {diameter: 1/2 in, embedment: 3 in, base: masonry, unit: cmu, fill: hollow}\n");
  ASSERT_NE(out.data, nullptr) << out.text();
  EXPECT_EQ(figure(out.data->sizes[0], "anchor.category"), 2);
  EXPECT_EQ(figure(out.data->sizes[0], "anchor.c_min"), 2);
  EXPECT_TRUE(std::isnan(figure(out.data->sizes[0], "anchor.f_m_min")));
  EXPECT_EQ(figure(out.data->sizes[1], "anchor.c_min"), 3);
  EXPECT_TRUE(std::isnan(figure(out.data->sizes[1], "anchor.category")));
}

TEST_F(AnchorDataTest, OnlyTheVerySizeIsFound) {
  const auto data = shipped("screw");
  const AnchorQuery query{"screw_anchor", 0.5, 3.25, "concrete", "", ""};
  ASSERT_NE(find_size(*data, query).size, nullptr);
  EXPECT_EQ(figure(*find_size(*data, query).size, "anchor.c_min"), 1.75);
  AnchorQuery between = query;
  between.embedment = 3;
  EXPECT_EQ(find_size(*data, between).size, nullptr);
  EXPECT_FALSE(find_size(*data, between).open);
  EXPECT_NE(find_size(*data, between).why.find("1/2\" x 3 1/4\" in concrete"), std::string::npos);
  AnchorQuery other = query;
  other.kind = "wedge_anchor";
  EXPECT_EQ(find_size(*data, other).size, nullptr);
}

TEST_F(AnchorDataTest, TheWallSettlesTheRow) {
  const auto data = shipped("sleeve");
  AnchorQuery query{"sleeve_anchor", 0.375, 1.125, "masonry", "cmu", "no"};
  ASSERT_NE(find_size(*data, query).size, nullptr);
  EXPECT_EQ(find_size(*data, query).size->fill, "hollow");
  query.filled = "yes";
  EXPECT_EQ(find_size(*data, query).size, nullptr);
  EXPECT_FALSE(find_size(*data, query).open);
  query.filled = "";
  EXPECT_EQ(find_size(*data, query).size, nullptr) << "nobody knows what is in the cells";
  EXPECT_TRUE(find_size(*data, query).open);
  query.unit = "brick";
  query.filled = "no";
  EXPECT_EQ(find_size(*data, query).size, nullptr);
}

TEST_F(AnchorDataTest, BondStrengthGoesByTheNextHotterRow) {
  const auto data = shipped("adhesive");
  const auto& size = *find_size(*data, {"adhesive_anchor", 0.5, 4, "concrete", "", ""}).size;
  EXPECT_EQ(figure(size, "anchor.tau_cr", 70), 400);
  EXPECT_EQ(figure(size, "anchor.tau_cr", 110), 400);
  EXPECT_EQ(figure(size, "anchor.tau_cr", 111), 300);
  EXPECT_TRUE(std::isnan(figure(size, "anchor.tau_cr", 151)));
  EXPECT_TRUE(std::isnan(figure(size, "anchor.tau_cr")));
  EXPECT_EQ(too_hot(size, 150.0), false);
  EXPECT_EQ(too_hot(size, 151.0), true);
  EXPECT_EQ(too_hot(size, std::nullopt), std::nullopt);
}

TEST_F(AnchorDataTest, TheLastDayStillCounts) {
  const std::string head = "schema: anchor-data/1\nname: TRY\nkind: screw_anchor\nreport: R\nedition: '1'\nfrom: page 1\nbases: [concrete]\nsizes: [{diameter: 1/2 in, embedment: 3 in}]\n";
  const auto out = read(head + "expires: 2027-06-30\n");
  ASSERT_NE(out.data, nullptr) << out.text();
  EXPECT_EQ(expired(*out.data, {2027, 6, 30}), false);
  EXPECT_EQ(expired(*out.data, {2027, 7, 1}), true);
  EXPECT_EQ(read(head).ids(), std::vector<MessageId>{MessageId::A009});
  EXPECT_EQ(read(head + "expires: 2027-02-29\n").ids(), std::vector<MessageId>{MessageId::A008});
  EXPECT_EQ(read(head + "expires: 30.6.2027\n").ids(), std::vector<MessageId>{MessageId::A008});
}

TEST_F(AnchorDataTest, RealFiguresNeedTheirReportAndInventedOnesHaveNone) {
  const std::string tail = "bases: [concrete]\nsizes: [{diameter: 1/2 in, embedment: 3 in}]\n";
  EXPECT_EQ(read("schema: anchor-data/1\nname: A\nkind: screw_anchor\n" + tail).ids(), std::vector<MessageId>{MessageId::A009});
  EXPECT_EQ(read("schema: anchor-data/1\nname: A\nkind: screw_anchor\ninvented: yes\nreport: R-1\n" + tail).ids(), std::vector<MessageId>{MessageId::A010});
}

TEST_F(AnchorDataTest, AnotherFileIsNotTakenForOne) {
  EXPECT_EQ(read("format: 1\nopenings: []\n").ids(), std::vector<MessageId>{MessageId::A002});
  EXPECT_EQ(read("").ids(), std::vector<MessageId>{MessageId::A002});
  EXPECT_EQ(read("schema: anchor-data/2\n").ids(), std::vector<MessageId>{MessageId::A002});
}

}  // namespace
}  // namespace jambcheck::opening
