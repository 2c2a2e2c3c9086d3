#pragma once
// The rule set as it lies in the program: read and checked when the program was built, at the very address at which it
// will stand, so that nothing is left to do at the start. lib/bundle/maker makes it.
#include <cstdint>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "rules/rule_set.h"
#include "text/source.h"

namespace jambcheck::bundle {

/// Where the image begins, in the maker and in every program that carries it; CMakeLists.txt tells the linker.
inline constexpr std::uintptr_t kBase = 0x20000000;
inline constexpr std::uint64_t kMagic = 0x31454c444e55424aULL;

/// A file that went into the image, as it was then.
struct FileMark {
  std::string path;  ///< rules/wood/lag_screw/withdrawal.yaml
  std::uint64_t bytes = 0;
  std::int64_t changed = 0;  ///< ns since the epoch
  std::uint64_t hash = 0;
};

struct Contents {
  std::unique_ptr<const rules::RuleSet> set;
  text::SourceSet sources;
  std::vector<FileMark> files;  ///< by path
  std::vector<std::pair<rules::Rule*, std::string>> solvers;  ///< solvers stay in the program: named here, tied at the start
};

/// The first bytes of the image.
struct Header {
  std::uint64_t magic = 0;
  std::uint64_t shape = 0;  ///< sizes of what lies in the image
  const Contents* contents = nullptr;
};

inline constexpr std::uint64_t kShape = sizeof(Contents) + 1000 * sizeof(rules::RuleSet) + 1000000 * sizeof(rules::Rule) +
                                        1000000000 * (sizeof(rules::Key) + sizeof(table::Table) + sizeof(expr::Node));

/// Every .yaml of rules/ and tables/ below `root`, by path, without its hash.
std::vector<FileMark> files_below(const std::string& root);
/// The hash of a file's content; 0 when it can't be read.
std::uint64_t hash_of(const std::string& path);

}  // namespace jambcheck::bundle
