#include <algorithm>

#include "document/pdf_join.h"
#include "document/pdf_pages.h"
#include "document/writers.h"
#include "threads/share_out.h"

namespace jambcheck::document {
namespace {

// Blocks that make it worth while to draw a paper in pieces at once, and how many pieces. Told by the paper alone, so that
// the same paper gives the same bytes on every machine.
constexpr std::size_t kLong = 1500;
constexpr std::size_t kPieces = 4;

std::size_t weight_of(const Block& block) {
  const auto* table = std::get_if<Table>(&block.is);
  return table ? 1 + table->rows.size() : 1;
}

/// Cut at page breaks, into pieces of about one weight.
std::vector<std::span<const Block>> pieces_of(const Document& d) {
  std::size_t all = 0;
  for (const auto& b : d.blocks) all += weight_of(b);
  const std::size_t share = all < kLong ? all : all / kPieces;
  std::vector<std::span<const Block>> out;
  std::size_t start = 0, weight = 0;
  for (std::size_t i = 0; i < d.blocks.size(); ++i) {
    if (weight >= share && i > start && std::holds_alternative<PageBreak>(d.blocks[i].is)) {
      out.push_back(std::span(d.blocks).subspan(start, i - start));
      start = i + 1;
      weight = 0;
    }
    weight += weight_of(d.blocks[i]);
  }
  out.push_back(std::span(d.blocks).subspan(start));
  return out;
}

/// A paper measured: its pieces, what stands on which page, and the sizes of its texts.
class Paginated {
 public:
  Paginated(const Document& d, int jobs) : jobs_(jobs), flow_{d, 1, {}, nullptr} {
    for (const auto& b : d.blocks)
      if (const auto* h = std::get_if<Heading>(&b.is); h && h->level <= 2 && !h->anchor.empty()) flow_.contents.push_back(h);
    for (const auto& blocks : pieces_of(d)) parts_.push_back({blocks, 0});
    sizes_.resize(parts_.size());
    choose_scale();
  }
  [[nodiscard]] int pages() const { return numbers_.pages; }

  std::vector<Painted> painted() {
    flow_.numbers = &numbers_;
    std::vector<Painted> out(parts_.size());
    threads::for_each_index(parts_.size(), jobs_, [&](std::size_t i) { out[i].found = paint(flow_, parts_[i], sizes_[i], out[i].pdf); });
    return out;
  }

 private:
  /// The largest scale with the fewest pages; the least one keeps print readable.
  void choose_scale() {
    constexpr double kScales[] = {1, 0.95, 0.91, 0.87, 0.84};
    double best = 0;
    for (const double scale : kScales) {
      flow_.scale = scale;
      const auto found = measured();
      int pages = 0;
      for (const auto& one : found) pages += one.pages;
      if (best != 0 && pages >= numbers_.pages) continue;
      number(found);
      best = scale;
      if (!flow_.document.one_page || pages == 1) break;
    }
    flow_.scale = best;
  }
  std::vector<Flowed> measured() {
    std::vector<Flowed> out(parts_.size());
    threads::for_each_index(parts_.size(), jobs_, [&](std::size_t i) { out[i] = measure(flow_, parts_[i], sizes_[i]); });
    return out;
  }
  void number(const std::vector<Flowed>& found) {
    numbers_ = {};
    for (std::size_t i = 0; i < parts_.size(); ++i) {
      parts_[i].pages_before = numbers_.pages;
      for (const auto& a : found[i].anchors) numbers_.page_of.try_emplace(a.name, numbers_.pages + a.at.page + 1);
      numbers_.pages += found[i].pages;
    }
  }

  int jobs_;
  Flow flow_;
  std::vector<Part> parts_;
  std::vector<TextSizes> sizes_;
  Numbering numbers_;
};

}  // namespace

std::string to_pdf(const Document& document, int jobs) { return join(document, Paginated(document, jobs).painted()); }

int pages_of(const Document& document) { return Paginated(document, 1).pages(); }

}  // namespace jambcheck::document
