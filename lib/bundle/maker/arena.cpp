#include "bundle/maker/arena.h"

#include <sys/mman.h>

#include <algorithm>
#include <bit>
#include <cstdlib>
#include <cstring>
#include <new>

#include "bundle/contents.h"

namespace jambcheck::bundle {
namespace {

constexpr std::size_t kMost = std::size_t{256} << 20;
constexpr std::size_t kGrain = 16;
constexpr std::size_t kSmall = 1024;  // sizes up to here are kept apart by grain, larger ones by powers of two

struct Free {
  Free* next;
};

bool is_open = false;
char* next_byte = nullptr;
Free* free_lists[kSmall / kGrain + 64] = {};

unsigned char class_of_grain[kMost / kGrain] = {};  // of the block that begins there: not every delete tells the size

std::size_t rounded(std::size_t n) { return n <= kSmall ? std::max(kGrain, (n + kGrain - 1) / kGrain * kGrain) : std::bit_ceil(n); }
std::size_t class_of(std::size_t size) { return size <= kSmall ? size / kGrain : kSmall / kGrain + static_cast<std::size_t>(std::countr_zero(size)); }
std::size_t size_of_class(std::size_t c) { return c <= kSmall / kGrain ? c * kGrain : std::size_t{1} << (c - kSmall / kGrain); }
unsigned char& class_at(const void* p) { return class_of_grain[(reinterpret_cast<std::uintptr_t>(p) - kBase) / kGrain]; }

bool is_inside(const void* p) {
  const auto at = reinterpret_cast<std::uintptr_t>(p);
  return at >= kBase && at < kBase + kMost;
}

void* take(std::size_t n) {
  const std::size_t size = rounded(n);
  if (Free*& first = free_lists[class_of(size)]) {
    Free* const block = first;
    first = block->next;
    block->next = nullptr;
    return block;
  }
  char* const block = next_byte;
  next_byte += size;
  if (next_byte > reinterpret_cast<char*>(kBase + kMost)) throw std::bad_alloc();
  class_at(block) = static_cast<unsigned char>(class_of(size));
  return block;
}

}  // namespace

void open_arena(std::size_t reserved) {
  void* const wanted = reinterpret_cast<void*>(kBase);
  if (mmap(wanted, kMost, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS | MAP_NORESERVE | MAP_FIXED_NOREPLACE, -1, 0) != wanted) throw std::bad_alloc();
  next_byte = reinterpret_cast<char*>(kBase) + (reserved + kGrain - 1) / kGrain * kGrain;
  is_open = true;
}

void close_arena() {
  is_open = false;
  // What lies free must not look like anything.
  for (Free*& list : free_lists)
    while (list) {
      Free* const block = list;
      list = block->next;
      block->next = nullptr;
    }
}

std::size_t arena_size() { return static_cast<std::size_t>(next_byte - reinterpret_cast<char*>(kBase)); }

void* allocate(std::size_t n) {
  if (is_open) return take(n);
  if (void* p = std::malloc(std::max<std::size_t>(n, 1))) return p;
  throw std::bad_alloc();
}

void release(void* p) {
  if (!is_inside(p)) return std::free(p);
  if (!is_open) return;
  const std::size_t c = class_at(p);
  std::memset(p, 0, size_of_class(c));
  auto* const block = static_cast<Free*>(p);
  Free*& list = free_lists[c];
  block->next = list;
  list = block;
}

}  // namespace jambcheck::bundle

void* operator new(std::size_t n) { return jambcheck::bundle::allocate(n); }
void* operator new[](std::size_t n) { return jambcheck::bundle::allocate(n); }
void operator delete(void* p) noexcept { jambcheck::bundle::release(p); }
void operator delete[](void* p) noexcept { jambcheck::bundle::release(p); }
void operator delete(void* p, std::size_t) noexcept { jambcheck::bundle::release(p); }
void operator delete[](void* p, std::size_t) noexcept { jambcheck::bundle::release(p); }
