// Every tests/cli/*.cli is a test. `test_cli --accept` rewrites the files; read the difference before you keep it.
#include <gtest/gtest.h>

#include "support/program.h"
#include "support/transcript.h"

int main(int argc, char** argv) {
  using namespace jambcheck::test;
  const bool accept = take_flag(argc, argv, "--accept");
  ::testing::InitGoogleTest(&argc, argv);
  for (const auto& path : files_below(source_dir() + "/tests/cli", ".cli")) register_transcript("Transcript", path, accept);
  return RUN_ALL_TESTS();
}
