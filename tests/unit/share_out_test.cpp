// Work shared out between threads: each thing once, and a problem comes out where it was asked for.
#include "threads/share_out.h"

#include <gtest/gtest.h>

#include <stdexcept>
#include <vector>

namespace jambcheck::threads {
namespace {

TEST(ShareOut, EachThingOnce) {
  for (const int jobs : {1, 2, 7}) {
    std::vector<std::atomic<int>> done(1000);
    for_each_index(done.size(), jobs, [&](std::size_t i) { ++done[i]; });
    for (const auto& one : done) ASSERT_EQ(one, 1) << jobs;
  }
}

TEST(ShareOut, NoMoreThreadsThanThingsAndNeverNone) {
  EXPECT_EQ(threads_for(3, 8), 3u);
  EXPECT_EQ(threads_for(100, 8), 8u);
  EXPECT_EQ(threads_for(0, 8), 1u);
  EXPECT_GE(threads_for(100, 0), 1u);
}

TEST(ShareOut, ThreadsAreNumberedFromThisOne) {
  std::vector<std::atomic<int>> met(4);
  share_out(met.size(), 4, [&](Turns&, std::size_t thread) { ++met[thread]; });
  for (const auto& one : met) EXPECT_EQ(one, 1);
}

TEST(ShareOut, AProblemOfAnyThreadComesOut) {
  for (const int jobs : {1, 4})
    EXPECT_THROW(for_each_index(50, jobs, [](std::size_t i) { if (i == 33) throw std::runtime_error("33"); }), std::runtime_error);
}

}  // namespace
}  // namespace jambcheck::threads
