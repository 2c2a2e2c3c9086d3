#pragma once
// One copy of a loop for each processor generation, chosen when the program starts; plain code elsewhere.
#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__) && !defined(__SANITIZE_ADDRESS__)
#define JAMBCHECK_CLONES __attribute__((target_clones("arch=x86-64-v4", "arch=x86-64-v3", "default")))
#else
#define JAMBCHECK_CLONES
#endif
