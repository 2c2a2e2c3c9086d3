// How fast a fastening is judged the light way, told in limit-state evaluations per second (one limit state in one load
// case), for one and two threads; then whole schedules over all four bases, every candidate of each opening's space in all
// load cases with the reasons of the refused, and a space narrowed to what an estimator has at the counter; and how the time
// grows with the number of openings. Times are those that the threads had a processor, so that a busy machine does not
// count; of several rounds the least.
//   choose_bench [MOST OPENINGS] [MOST OPENINGS OF THE NARROW SPACE]
#include <algorithm>
#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <functional>
#include <memory>
#include <thread>
#include <vector>

#include "choose/alike.h"
#include "choose/finder.h"
#include "opening/anchor_data.h"
#include "support/shipped.h"
#include "verdict/brief.h"

namespace {

using namespace jambcheck;

/// Processor time of this thread.
double seconds(const std::function<void()>& work) {
  const auto now = [] {
    timespec t{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return static_cast<double>(t.tv_sec) + static_cast<double>(t.tv_nsec) * 1e-9;
  };
  const double start = now();
  work();
  return now() - start;
}

class Bench : public Shipped {
 public:
  void TestBody() override {}
  static void run(std::size_t most, std::size_t most_narrow) {
    SetUpTestSuite();
    auto project = read("cases/boat_lockers/project.yaml");
    rules::PlanCache plans(set());
    for (const char* mark : {"C-101", "S-201", "D-401", "B-304"})
      for (const bool bracket : {false, true}) one_part(project, plans, mark, bracket);
    for (const std::size_t n : {100U, 1000U}) many_openings(project, plans, n);
    as_schedules_are(more_anchors(project));
    schedules("the whole space", project, most, {}, 1);
    schedules("a narrow space", more_anchors(project), most_narrow, at_the_counter(), 2);
  }

 private:
  static opening::Opening& find(opening::Project& project, const std::string& mark) {
    for (auto& o : project.openings)
      if (o.mark == mark) return o;
    return project.openings.front();
  }
  /// Guides at many spacings, brackets with many lengths: what changes from candidate to candidate.
  static std::size_t try_many(const opening::Project& project, opening::Opening o, rules::PlanCache& plans, bool bracket, int rounds, std::size_t& solved) {
    verdict::Briefs briefs(set(), plans);
    briefs.hold_loads();
    auto& fact = o.facts[bracket ? "bracket.edge" : "guide.spacing"];
    const double from = fact.value;
    for (int i = 0; i < rounds; ++i) {
      fact.value = from + (i % 32) / 16.0;
      (void)briefs.part(project, o, {opening::Side::left, bracket});
    }
    solved = briefs.solved();
    return briefs.evaluations();
  }
  static void one_part(opening::Project& project, rules::PlanCache& plans, const char* mark, bool bracket) {
    constexpr int kRounds = 400;
    const opening::Opening o = find(project, mark);
    std::size_t solved = 0, n = 0;
    try_many(project, o, plans, bracket, 2, solved);
    const double one = seconds([&] { n = try_many(project, o, plans, bracket, kRounds, solved); });
    double first = 0, second = 0;
    std::jthread other([&] {
      std::size_t b = 0;
      second = seconds([&] { try_many(project, o, plans, bracket, kRounds, b); });
    });
    first = seconds([&] { try_many(project, o, plans, bracket, kRounds, solved); });
    other.join();
    const double rate = static_cast<double>(n);
    std::printf("%-6s %-8s %7.3f ms a candidate   %9.0f evaluations/s on 1 thread, %9.0f on 2   (%zu solver runs in %d)\n", mark, bracket ? "bracket" : "guide",
                one / kRounds * 1e3, rate / one, rate / first + rate / second, solved, kRounds);
  }
  /// Opening i of a schedule: wood, steel, block and concrete in turn, each with its own size and weight; or of six widths,
  /// two heights and two weights, as the doors of a row of lockers are.
  static opening::Opening nth(const opening::Project& project, std::size_t i, bool different) {
    static constexpr const char* kBases[] = {"C-101", "S-201", "B-301", "D-401"};
    opening::Opening o;
    for (const auto& one : project.openings)
      if (one.mark == kBases[i % 4]) o = one;
    o.mark = "X-" + std::to_string(i);
    if (!different) {
      const std::size_t k = i / 4;
      o.facts["width"].value = 84 + 12 * static_cast<double>(k % 6);
      o.facts["height"].value = 84 + 12 * static_cast<double>(k / 6 % 2);
      o.facts["door.barrel_weight"].value += 10 * static_cast<double>(k / 12 % 2);
      return o;
    }
    o.facts["width"].value = 84 + static_cast<double>(i % 37);
    o.facts["height"].value = 84 + static_cast<double>(i % 29);
    o.facts["door.barrel_weight"].value += static_cast<double>(i % 41);
    return o;
  }
  /// Lags and tapping screws of a few sizes and lengths, and all anchors: 150 or more an opening.
  static choose::Narrow at_the_counter() {
    choose::Narrow out;
    out.kinds = {"lag_screw", "tapping_screw", "screw_anchor", "wedge_anchor", "sleeve_anchor", "adhesive_anchor"};
    out.sizes = {{0.19, 0.25}, {0.375, 0.5}};
    out.lengths = {{0.75, 0.75}, {3, 6}};
    return out;
  }
  /// The invented anchors under three names each: as many as a shop with three makers has.
  static opening::Project more_anchors(const opening::Project& project) {
    opening::Project out = project;
    for (const char* name : {"-B", "-C"})
      for (const auto& data : project.anchors) {
        auto copy = std::make_shared<std::decay_t<decltype(*data)>>(*data);
        copy->name += name;
        out.anchors.push_back(std::move(copy));
      }
    return out;
  }
  struct Share {
    double seconds = 0;
    std::size_t candidates = 0, evaluations = 0, least = SIZE_MAX;  ///< least: candidates of one opening
  };
  /// Each of n openings as `choose` looks at it, by this many threads; what each of them did. The wind speed changes too.
  static std::vector<Share> choose_all(const opening::Project& project, const choose::Narrow& narrow, std::size_t n, std::size_t threads, bool different = true) {
    std::vector<opening::Opening> openings;
    std::vector<const opening::Opening*> list;
    for (std::size_t i = 0; i < n; ++i) openings.push_back(nth(project, i, different));
    for (const auto& o : openings) list.push_back(&o);
    const auto groups = choose::alike(list);
    verdict::Checker checker(set());
    std::vector<Share> shares(threads);
    std::atomic<std::size_t> next{0};
    std::vector<std::jthread> pool;
    for (std::size_t t = 0; t < threads; ++t)
      pool.emplace_back([&, t] {
        verdict::Briefs briefs(set(), checker.plans());
        opening::Project own;
        own.facts = project.facts;
        own.anchors = project.anchors;
        Share share;
        share.seconds = seconds([&] {
          for (std::size_t g = next++; g < groups.size(); g = next++) {
            const std::size_t i = groups[g].front();
            const opening::Opening& o = openings[i];
            if (different) own.facts["site.wind.speed"].value = project.facts.at("site.wind.speed").value * (0.95 + static_cast<double>(i % 11) / 100);
            std::size_t tried = 0;
            for (const bool bracket : {false, true}) {
              const auto found = choose::find(checker, briefs, set(), own, o, {bracket, choose::Sides::both, choose::By::holes, true, narrow}, {});
              tried += found.tried.size();
              share.evaluations += found.evaluations;
            }
            share.candidates += tried * groups[g].size();
            share.least = std::min(share.least, tried);
          }
        });
        shares[t] = share;
      });
    pool.clear();
    return shares;
  }
  /// A thousand openings of which a tenth are different, the whole space, one and two threads.
  static void as_schedules_are(const opening::Project& project) {
    constexpr std::size_t kOpenings = 1000;
    (void)choose_all(project, {}, 8, 1, false);
    for (const std::size_t threads : {1U, 2U}) {
      double longest = 0;
      Share sum;
      for (const Share& share : choose_all(project, {}, kOpenings, threads, false)) {
        longest = std::max(longest, share.seconds);
        sum.candidates += share.candidates;
        sum.evaluations += share.evaluations;
        sum.least = std::min(sum.least, share.least);
      }
      std::printf("choose over %5zu openings, a tenth of them different, the whole space, both parts: %7.2f s on %zu thread%s, %7zu candidates (%zu or more an opening), %9.0f evaluations/s\n", kOpenings, longest,
                  threads, threads == 1 ? "" : "s", sum.candidates, sum.least, static_cast<double>(sum.evaluations) / longest);
      std::fflush(stdout);
    }
  }
  static void schedules(const char* what, const opening::Project& project, std::size_t most, const choose::Narrow& narrow, int rounds) {
    double an_opening = 0, one_thread = 0;
    (void)choose_all(project, narrow, 8, 1);  // plans and plates are made
    for (std::size_t n = 100; n <= most; n *= 10) {
      Share best;
      for (int round = 0; round < (n <= 100 ? 3 : n <= 1000 ? rounds : 1); ++round)
        if (const Share one = choose_all(project, narrow, n, 1).front(); round == 0 || one.seconds < best.seconds) best = one;
      const double each = best.seconds / static_cast<double>(n);
      std::printf("choose over %5zu openings, %s, both parts: %7.2f s on 1 thread, %7zu candidates (%.0f an opening, %zu or more), %6.1f us a candidate, %9.0f evaluations/s", n, what, best.seconds, best.candidates,
                  static_cast<double>(best.candidates) / static_cast<double>(n), best.least, best.seconds / static_cast<double>(best.candidates) * 1e6, static_cast<double>(best.evaluations) / best.seconds);
      if (n > 100) std::printf(", %.3f of the time an opening at 100", each / an_opening);
      std::printf("\n");
      std::fflush(stdout);
      if (n == 100) {
        an_opening = each;
        one_thread = static_cast<double>(best.evaluations) / best.seconds;
      }
    }
    if (one_thread == 0) return;
    double both = 0;
    for (const Share& share : choose_all(project, narrow, 100, 2)) both += static_cast<double>(share.evaluations) / share.seconds;
    std::printf("choose over   100 openings, %s, on 2 threads: %.2f times the evaluations/s of 1\n", what, both / one_thread);
    std::fflush(stdout);
  }
  /// Guides of n openings of different size and weight, 16 spacings each, as choosing does it.
  static void many_openings(const opening::Project& project, rules::PlanCache& plans, std::size_t n) {
    const opening::Opening model = project.openings.front();
    std::size_t evaluations = 0;
    const double taken = seconds([&] {
      verdict::Briefs briefs(set(), plans);
      for (std::size_t i = 0; i < n; ++i) {
        opening::Opening o = model;
        o.facts["width"].value += static_cast<double>(i % 50);
        briefs.hold_loads();
        for (int k = 0; k < 16; ++k) {
          o.facts["guide.spacing"].value = 6 + k;
          (void)briefs.part(project, o, {opening::Side::left, false});
        }
      }
      evaluations = briefs.evaluations();
    });
    std::printf("%5zu openings x 16 spacings of a guide: %7.3f s, %6.3f ms an opening, %9.0f evaluations/s\n", n, taken, taken / static_cast<double>(n) * 1e3, static_cast<double>(evaluations) / taken);
  }
};

}  // namespace

int main(int argc, char** argv) {
  Bench::run(argc > 1 ? static_cast<std::size_t>(std::atol(argv[1])) : 100, argc > 2 ? static_cast<std::size_t>(std::atol(argv[2])) : 1000);
  return 0;
}
