#pragma once
// What was judged once is not judged again: the left guide like the right one, one opening like another. Two links are
// one when their whole cases are alike to the last bit.
#include <deque>
#include <memory>
#include <mutex>
#include <string>
#include <unordered_map>

#include "verdict/connection.h"

namespace jambcheck::verdict {

struct JudgedLink;  // check.cpp

/// Shared between threads; keeps the last few hundred.
class LinkMemory {
 public:
  /// All that a judgement hangs on, as bytes.
  static std::string key_of(const Connection& connection);
  /// Null when it was not judged, or too long ago.
  std::shared_ptr<const JudgedLink> find(const std::string& key);
  void keep(const std::string& key, std::shared_ptr<const JudgedLink> judged);

 private:
  std::mutex mutex_;
  std::unordered_map<std::string, std::shared_ptr<const JudgedLink>> judged_;
  std::deque<const std::string*> order_;  ///< keys, the oldest first
};

}  // namespace jambcheck::verdict
