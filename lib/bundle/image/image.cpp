// The image, put into the program where the linker is told to (CMakeLists.txt). Writable for the solvers to be tied.
asm(".section .jambcheck_rules, \"aw\", @progbits\n"
    ".balign 4096\n"
    ".globl jambcheck_rules_image\n"
    "jambcheck_rules_image:\n"
    ".incbin \"rules.image\"\n"
    ".balign 4096\n"
    ".previous\n");
