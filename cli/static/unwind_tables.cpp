// For the static program alone. The start-up code of a static program registers its unwind tables, and the first exception
// then sorts all of them, some milliseconds for `--help` or a message. The linker has made a sorted table already
// (--eh-frame-hdr), which the unwinder finds by itself where nothing was registered: so nothing is (--wrap).
extern "C" {
// NOLINTNEXTLINE(bugprone-reserved-identifier): the linker makes these names
void __wrap___register_frame_info(const void*, void*) {}
// NOLINTNEXTLINE(bugprone-reserved-identifier)
void* __wrap___deregister_frame_info(const void*) { return nullptr; }
}
