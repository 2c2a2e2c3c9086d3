#include "schedule/known.h"

#include "opening/field.h"

namespace jambcheck::schedule {

std::string Known::key_of(const std::vector<opening::Written>& values) {
  std::string key;
  for (const auto& value : values) {
    if (opening::only_names(value.path)) continue;
    key += value.path + '\x1f' + value.text + '\x1e';
  }
  return key;
}

Known::Found Known::find(const std::string& key, const std::string& mark) const {
  const std::lock_guard lock(mutex_);
  const auto it = all_.find(key);
  if (it == all_.end()) return {};
  auto out = std::make_shared<Summary>(it->second.summary);
  out->governs = mark + out->governs;
  return {out, it->second.silent};
}

void Known::keep(const std::string& key, const std::string& mark, const Summary& summary, bool silent) {
  if (summary.governs.rfind(mark, 0) != 0 || summary.why.find(mark) != std::string::npos) return;
  Summary kept = summary;
  kept.governs.erase(0, mark.size());
  const std::lock_guard lock(mutex_);
  if (all_.size() < kMost) all_.emplace(key, Kept{std::move(kept), silent});
}

}  // namespace jambcheck::schedule
