#pragma once
// Inside of opening: fields that lose their meaning when another field is written differently. The species of a wood
// jamb says nothing about a jamb of block; the thread of one screw nothing about another screw.
#include <string_view>
#include <vector>

namespace jambcheck::opening {

struct Decider {
  std::string_view field;  ///< this field, written for itself ...
  std::string_view moot;   ///< ... makes this one moot; with a dot at the end everything below it
  enum class When { differs, written } when = When::differs;
};

/// The deciders of `path` (without left. or right.).
std::vector<const Decider*> deciders_of(std::string_view path);

}  // namespace jambcheck::opening
