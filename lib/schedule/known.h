#pragma once
// Results of rows that say the same: alike openings are worked out once.
#include <memory>
#include <mutex>
#include <string>
#include <unordered_map>

#include "schedule/row.h"

namespace jambcheck::schedule {

/// Safe to use from several threads. A result does not hang on the mark but for its address, so it serves every row with
/// the same values. A row whose values led to messages is read again, for its messages are its own.
class Known {
 public:
  /// The values that a result hangs on, as one text.
  static std::string key_of(const std::vector<opening::Written>& values);
  struct Found {
    std::shared_ptr<const Summary> summary;  ///< null when there is none
    bool silent = false;                     ///< reading such a row says nothing
  };
  [[nodiscard]] Found find(const std::string& key, const std::string& mark) const;
  void keep(const std::string& key, const std::string& mark, const Summary& summary, bool silent);

 private:
  static constexpr std::size_t kMost = 4096;
  mutable std::mutex mutex_;
  struct Kept {
    Summary summary;
    bool silent = false;
  };
  std::unordered_map<std::string, Kept> all_;
};

}  // namespace jambcheck::schedule
