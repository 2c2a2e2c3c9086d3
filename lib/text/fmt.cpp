// The source of the fmt library, out of its own headers: Debian has it as a shared library only, and a program that
// loads none starts in a third of the time. The list of instances is that of fmt 9 (src/format.cc).
#include <fmt/format-inl.h>

#if FMT_VERSION < 90000 || FMT_VERSION >= 100000
#error "This file is for fmt 9; build with -DJAMBCHECK_STATIC=OFF to take the shared library."
#endif

FMT_BEGIN_NAMESPACE
namespace detail {

template FMT_API auto dragonbox::to_decimal(float x) noexcept -> dragonbox::decimal_fp<float>;
template FMT_API auto dragonbox::to_decimal(double x) noexcept -> dragonbox::decimal_fp<double>;
template FMT_API locale_ref::locale_ref(const std::locale& loc);
template FMT_API auto locale_ref::get<std::locale>() const -> std::locale;
template FMT_API auto thousands_sep_impl(locale_ref) -> thousands_sep_result<char>;
template FMT_API auto decimal_point_impl(locale_ref) -> char;
template FMT_API void buffer<char>::append(const char*, const char*);
template FMT_API void vformat_to(buffer<char>&, string_view, basic_format_args<buffer_context<char>>, locale_ref);

}  // namespace detail
FMT_END_NAMESPACE
