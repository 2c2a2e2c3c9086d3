// How fast a fastening is judged the light way, told in limit-state evaluations per second (one limit state in one load
// case), for one and two threads, and how the time grows with the number of openings. Times are those that the threads
// had a processor, so that a busy machine does not count.
#include <cstdio>
#include <ctime>
#include <functional>
#include <thread>

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
  static void run() {
    SetUpTestSuite();
    auto project = read("cases/boat_lockers/project.yaml");
    rules::PlanCache plans(set());
    for (const char* mark : {"C-101", "S-201", "D-401", "B-304"})
      for (const bool bracket : {false, true}) one_part(project, plans, mark, bracket);
    for (const std::size_t n : {100U, 1000U}) many_openings(project, plans, n);
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

int main() {
  Bench::run();
  return 0;
}
