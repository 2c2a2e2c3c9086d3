// The least a program costs: prints one line. Stands beside jambcheck in cold_start_bench.
#include <fmt/format.h>

int main() { fmt::print("{}\n", "nothing"); }
