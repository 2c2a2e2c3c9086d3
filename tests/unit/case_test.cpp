// A case keeps its keys in the order of their names, whatever order they came in.
#include "rules/case.h"

#include <gtest/gtest.h>

#include <cmath>

#include "rules/given.h"
#include "support/built_in.h"

namespace jambcheck::rules {
namespace {

class CaseTest : public ::testing::Test {
 protected:
  static const RuleSet& set() { return test::built_in(); }
  static const Key& key(const char* name) { return *set().key(name); }
  static Given number(double x) { return {x, false, false, {}}; }
  static std::string names(const Case& values) {
    std::string out;
    for (const auto& [one, given] : values) out += one.name + " ";
    return out;
  }
};

TEST_F(CaseTest, KeysStandInTheOrderOfTheirNames) {
  Case values;
  for (const char* name : {"wind.given", "base.material", "fastener.length", "edge.loaded"}) values.set(key(name), number(1));
  EXPECT_EQ(names(values), "base.material edge.loaded fastener.length wind.given ");
}

TEST_F(CaseTest, SetsReplacesAndErases) {
  Case values;
  values.set(key("fastener.length"), number(3));
  values.set(key("edge.loaded"), number(2));
  values.set(key("wind.given"), number(7));
  values.set(key("fastener.length"), number(4));
  EXPECT_EQ(values.size(), 3u);
  EXPECT_EQ(values.number("fastener.length"), 4);
  values.erase(key("edge.loaded"));
  values.erase(key("edge.loaded"));
  EXPECT_EQ(names(values), "fastener.length wind.given ");
  EXPECT_EQ(values.number("fastener.length"), 4);
  EXPECT_EQ(values.number("wind.given"), 7) << "the last value took the place of the one that went";
  EXPECT_EQ(values.find(key("edge.loaded")), nullptr);
  EXPECT_FALSE(values.says("edge.loaded"));
}

TEST_F(CaseTest, WhatTheOtherCaseSaysCounts) {
  Case values, other;
  values.set(key("fastener.length"), number(3));
  values.set(key("edge.loaded"), number(2));
  other.set(key("fastener.length"), number(5));
  other.set(key("wind.given"), number(7));
  values.set(other);
  EXPECT_EQ(names(values), "edge.loaded fastener.length wind.given ");
  EXPECT_EQ(values.number("fastener.length"), 5);
}

TEST_F(CaseTest, UnknownIsNeitherWordNorNumber) {
  Case values;
  set_word(set(), key("base.material"), "concrete", values);
  EXPECT_EQ(values.word("base.material"), "concrete");
  EXPECT_TRUE(std::isnan(values.number("base.material")));
  values.set(key("base.material"), {0, false, true, {}});
  values.set(key("fastener.length"), {3, false, true, {}});
  EXPECT_EQ(values.word("base.material"), "");
  EXPECT_TRUE(std::isnan(values.number("fastener.length")));
  EXPECT_TRUE(values.says("fastener.length"));
  set_word(set(), key("base.material"), "no such word", values);
  EXPECT_TRUE(values.find("base.material")->unknown);
}

TEST_F(CaseTest, EveryKeyIsFoundByItsNameAndByItself) {
  Case values;
  for (const auto& [name, one] : set().keys()) values.set(one, number(static_cast<double>(one.number)));
  ASSERT_EQ(values.size(), set().keys().size());
  for (const auto& [name, one] : set().keys()) {
    EXPECT_EQ(values.find(name), values.find(one)) << name;
    EXPECT_EQ(values.number(name), static_cast<double>(one.number)) << name;
  }
}

}  // namespace
}  // namespace jambcheck::rules
