#pragma once
// "Did you mean": the nearest of a closed list of names.
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace jambcheck::text {

/// The candidate nearest to `word`, when it is near enough to be a slip of the finger; else empty.
std::string nearest(std::string_view word, const std::vector<std::string>& candidates);

/// "did you mean X?" or "one of: a, b, c", ready for a message's last argument. A long list is not written out.
std::string suggestion(std::string_view word, const std::vector<std::string>& candidates);

/// "a, b, c"
std::string join(const std::vector<std::string>& words, std::string_view separator = ", ");

}  // namespace jambcheck::text
