#include "bundle/bundle.h"

#include <algorithm>

#include "bundle/contents.h"

// Null in a program that carries no image (sanitizers, coverage, tests).
extern "C" [[gnu::weak]] const unsigned char jambcheck_rules_image[];

namespace jambcheck::bundle {
namespace {

const Contents* contents() {
  const auto* image = reinterpret_cast<const Header*>(jambcheck_rules_image);
  if (reinterpret_cast<std::uintptr_t>(image) != kBase || image->magic != kMagic || image->shape != kShape) return nullptr;
  return image->contents;
}

/// The first path whose file is not as it was; empty when all are.
std::string first_difference(const std::vector<FileMark>& then, const std::vector<FileMark>& now, const std::string& root) {
  for (std::size_t i = 0; i < std::max(then.size(), now.size()); ++i) {
    if (i == then.size()) return now[i].path;
    if (i == now.size()) return then[i].path;
    if (then[i].path != now[i].path) return std::min(then[i].path, now[i].path);
    const bool untouched = then[i].bytes == now[i].bytes && then[i].changed == now[i].changed;
    if (!untouched && then[i].hash != hash_of(root + "/" + now[i].path)) return now[i].path;
  }
  return "";
}

}  // namespace

BuiltIn built_in(const program::NativeRegistry& solvers, const std::string& root) {
  BuiltIn out;
  const Contents* image = contents();
  if (!image) return out;
  const auto now = files_below(root);
  if (!now.empty()) {
    out.first = first_difference(image->files, now, root);
    out.beside = out.first.empty() ? Beside::same : Beside::different;
    if (out.beside == Beside::different) return out;
  }
  for (const auto& [rule, name] : image->solvers) {
    rule->solver = solvers.find(name);
    if (!rule->solver) return out;
  }
  out.set = image->set.get();
  return out;
}

}  // namespace jambcheck::bundle
