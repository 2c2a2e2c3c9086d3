#pragma once
// Memory at a fixed address for everything that is made while the arena is open.
#include <cstddef>

namespace jambcheck::bundle {

/// From here on, every `new` of this program takes memory at kBase and upward. The first `reserved` bytes are left free.
void open_arena(std::size_t reserved);
void close_arena();
/// Bytes in use, from kBase.
std::size_t arena_size();

}  // namespace jambcheck::bundle
