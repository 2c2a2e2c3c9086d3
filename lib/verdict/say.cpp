#include "verdict/say.h"

#include <cctype>
#include <cmath>

#include "units/quantity.h"

namespace jambcheck::verdict {

std::vector<AssumedValue> assumed_by(const rules::Plan& plan, const rules::RuleSet& set, const Connection& connection) {
  std::vector<AssumedValue> out;
  for (const auto& source : plan.sources()) {
    const bool given = source.given || (!connection.cases.empty() && connection.cases.front().values.find(*source.key));
    if (given || source.assumed_why.empty() || std::isnan(source.assumed)) continue;
    const auto* said = connection.common.find(*source.key);
    if (said && said->unknown) continue;
    out.push_back({source.key->name, source.key->is_word ? set.symbols().word(static_cast<std::uint32_t>(source.assumed)) : units::show(source.assumed, source.key->unit), source.assumed_why});
  }
  return out;
}

std::string why_it_governs(const std::string& connection, const rules::Rule& rule, const std::string& load_case) {
  std::string title = rule.title;
  if (title.size() > 1 && std::islower(static_cast<unsigned char>(title[1]))) title[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(title[0])));
  return connection + ": " + title + "; " + load_case;
}

}  // namespace jambcheck::verdict
