#pragma once
// Inside of choose: columns of the tables that say what is tried.
#include <string>
#include <string_view>
#include <vector>

#include "rules/rule_set.h"

namespace jambcheck::choose {

/// A number of a table by words and numbers; NaN where there is none.
double number_at(const rules::RuleSet& set, std::string_view table, std::string_view column, const std::vector<std::string>& words, double n = -1);
/// The word of a table's column, or empty.
std::string word_at(const rules::RuleSet& set, std::string_view table, std::string_view column, const std::vector<std::string>& words, double n = -1);
/// Values of the column for n = 1, 2 ... while there are any.
std::vector<double> column(const rules::RuleSet& set, std::string_view table, std::string_view name, const std::vector<std::string>& words = {});
std::vector<std::string> words(const rules::RuleSet& set, std::string_view table, std::string_view name, const std::vector<std::string>& words);
/// Sizes of a kind within what choose.kinds says for this base, upward.
std::vector<double> diameters(const rules::RuleSet& set, const std::string& base, const std::string& kind);
/// Kinds that suit a base, in the order of the table.
std::vector<std::string> kinds_for(const rules::RuleSet& set, const std::string& base);

/// Nominal diameter of a screw by its number, and the other way; 0 for kinds and diameters that have no number.
double diameter_of_number(const rules::RuleSet& set, int number);
int number_of_screw(const rules::RuleSet& set, const std::string& kind, double diameter);

}  // namespace jambcheck::choose
