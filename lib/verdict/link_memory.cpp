#include "verdict/link_memory.h"

#include <cstring>

namespace jambcheck::verdict {
namespace {

constexpr std::size_t kKept = 512;

void add(std::string& out, std::string_view text) {
  out += std::to_string(text.size());
  out += ':';
  out += text;
}

void add(std::string& out, double value) {
  char bytes[sizeof value];
  std::memcpy(bytes, &value, sizeof value);
  out.append(bytes, sizeof bytes);
}

void add(std::string& out, const rules::Case& values) {
  add(out, static_cast<double>(values.size()));
  for (const auto& [key, given] : values) {
    add(out, static_cast<double>(key.number));
    add(out, given.value);
    out += static_cast<char>('0' + (given.is_word ? 1 : 0) + (given.unknown ? 2 : 0));
    add(out, given.word);
  }
}

}  // namespace

std::string LinkMemory::key_of(const Connection& connection) {
  std::string out;
  out.reserve(16384);
  add(out, connection.common);
  for (const auto& load_case : connection.cases) {
    add(out, load_case.values);
    add(out, load_case.say);
  }
  return out;
}

std::shared_ptr<const JudgedLink> LinkMemory::find(const std::string& key) {
  const std::lock_guard lock(mutex_);
  const auto it = judged_.find(key);
  return it == judged_.end() ? nullptr : it->second;
}

void LinkMemory::keep(const std::string& key, std::shared_ptr<const JudgedLink> judged) {
  const std::lock_guard lock(mutex_);
  const auto [it, is_new] = judged_.emplace(key, std::move(judged));
  if (!is_new) return;
  order_.push_back(&it->first);
  if (order_.size() <= kKept) return;
  judged_.erase(*order_.front());
  order_.pop_front();
}

}  // namespace jambcheck::verdict
