// Units, quantities and lengths. Factors of the list are compared with their definitions: inch and pound of the 1959
// agreement, standard gravity of 1901 (seen: memory); conversions of printed digits name their origin beside them.
#include <gtest/gtest.h>

#include <cmath>
#include <cstring>
#include <random>

#include "text/number.h"
#include "units/quantity.h"

namespace jambcheck::units {
namespace {

using text::MessageId;

Unit unit(std::string_view text) {
  const auto read = parse_unit(text);
  EXPECT_TRUE(read) << text << ": " << (read ? "" : text::make(read.error().id, {}, read.error().args).sentence);
  return read ? *read : Unit{};
}

double amount(std::string_view text) {
  const auto read = parse_quantity(text);
  EXPECT_TRUE(read) << text << ": " << (read ? "" : text::make(read.error().id, {}, read.error().args).sentence);
  return read ? read->value : NAN;
}

double inches(std::string_view text) {
  const auto read = parse_length(text);
  EXPECT_TRUE(read) << text << ": " << (read ? "" : text::make(read.error().id, {}, read.error().args).sentence);
  return read ? read->value : NAN;
}

/// How many doubles lie between a and b.
std::int64_t steps_between(double a, double b) {
  std::int64_t x = 0, y = 0;
  std::memcpy(&x, &a, sizeof x);
  std::memcpy(&y, &b, sizeof y);
  return std::abs(x - y);
}

/// The message id, and the very bytes it points at.
struct Refusal {
  std::string id, at;
  friend bool operator==(const Refusal&, const Refusal&) = default;
  friend std::ostream& operator<<(std::ostream& out, const Refusal& r) { return out << r.id << " at <" << r.at << ">"; }
};

template <class Result>
Refusal refusal(const Result& result, std::string_view text) {
  if (result) return {"read", ""};
  const text::Problem& problem = result.error();
  EXPECT_LE(problem.offset + problem.length, text.size());
  // Every argument of the catalogue's text is there: making the message would throw otherwise.
  text::make(problem.id, {}, problem.args);
  return {std::string(text::entry(problem.id).name), std::string(text.substr(problem.offset, problem.length))};
}

Refusal unit_refusal(std::string_view text) { return refusal(parse_unit(text), text); }
Refusal length_refusal(std::string_view text) { return refusal(parse_length(text), text); }
Refusal quantity_refusal(std::string_view text) { return refusal(parse_quantity(text), text); }

std::string todo(const text::Problem& problem) { return text::make(problem.id, {}, problem.args).todo; }

// ---- exponents and dimensions

TEST(Exponent, StandsInLowestTerms) {
  EXPECT_EQ(Exponent(6, 8), Exponent(3, 4));
  EXPECT_EQ(Exponent(3, -4), Exponent(-3, 4));
  EXPECT_EQ(Exponent(3, -4).denominator(), 4);
  EXPECT_EQ(Exponent(0, 7), Exponent());
}

TEST(Exponent, Arithmetic) {
  EXPECT_EQ(Exponent(3, 4) + Exponent(2, 3), Exponent(17, 12));
  EXPECT_EQ(Exponent(3, 4) - Exponent(7, 4), Exponent(-1));
  EXPECT_EQ(Exponent(3, 4) * Exponent(2, 3), Exponent(1, 2));
}

TEST(Exponent, ArithmeticIsThatOfFractions) {
  std::mt19937 random(1);
  std::uniform_int_distribution<int> top(-40, 40), bottom(1, 64);
  for (int i = 0; i < 20000; ++i) {
    const Exponent a(top(random), bottom(random)), b(top(random), bottom(random)), c(top(random), bottom(random));
    ASSERT_EQ(a + b, b + a);
    ASSERT_EQ(a * b, b * a);
    ASSERT_EQ((a + b) + c, a + (b + c));
    ASSERT_EQ(a * (b + c), a * b + a * c);
    ASSERT_EQ((a + b) - b, a);
    ASSERT_NEAR((a + b).value(), a.value() + b.value(), 1e-12);
  }
}

TEST(Exponent, FromDecimals) {
  Exponent e;
  ASSERT_TRUE(Exponent::from_double(1.45, e));
  EXPECT_EQ(e, Exponent(29, 20));
  ASSERT_TRUE(Exponent::from_double(-0.75, e));
  EXPECT_EQ(e, Exponent(-3, 4));
  ASSERT_TRUE(Exponent::from_double(1.0 / 3, e));
  EXPECT_EQ(e, Exponent(1, 3));
  for (const double bad : {0.123456789, 3.14159265358979, 1e9, std::nan(""), HUGE_VAL})
    EXPECT_FALSE(Exponent::from_double(bad, e)) << bad;
}

TEST(Exponent, OutOfRangeIsNeverSilent) {
  Exponent e(1, 63);
  for (const int d : {61, 59, 57, 55, 53, 47, 43}) e = e + Exponent(1, d);
  EXPECT_FALSE(e.fits());
  EXPECT_FALSE(e == e);
  EXPECT_FALSE((e - e).fits());
  EXPECT_FALSE(Exponent(1, 0).fits());
}

TEST(Dimension, IsPrintedInWords) {
  EXPECT_EQ(to_string(unit("lbf/in").dimension), "length^(-1) force");
  EXPECT_EQ(to_string(unit("lbf/in^(13/12)").dimension), "length^(-13/12) force");
  EXPECT_EQ(to_string(unit("in^(1/2)*s^2").dimension), "length^(1/2) time^2");
  EXPECT_EQ(to_string(unit("in/in").dimension), "pure number");
  EXPECT_EQ(describe(unit("psf").dimension), "pressure (length^(-2) force)");
  EXPECT_EQ(describe(unit("mm").dimension), "length");
  EXPECT_EQ(describe(unit("psi^(1/2)").dimension), "length^(-1) force^(1/2)");
}

// ---- the list

TEST(UnitList, EachNameReadsAsItselfAndIsPrintedAsWritten) {
  for (const auto& row : unit_list()) {
    const auto read = parse_unit(row.name);
    ASSERT_TRUE(read) << row.name;
    EXPECT_EQ(read->name, row.name);
    EXPECT_EQ(read->factor, row.factor);
    EXPECT_EQ(read->offset, row.offset);
    EXPECT_EQ(read->dimension, row.dimension);
    EXPECT_FALSE(row.meaning.empty());
    EXPECT_EQ(describe(row.dimension).substr(0, row.quantity.size()), row.quantity) << row.name;
  }
}

TEST(UnitList, FactorsFollowFromTheDefinitions) {
  const double newton = 1 / 4.4482216152605, metre = 1 / 0.0254;
  EXPECT_DOUBLE_EQ(unit("m").factor, metre);
  EXPECT_DOUBLE_EQ(unit("N").factor, newton);
  EXPECT_DOUBLE_EQ(unit("MPa").factor, 1e6 * newton / (metre * metre));
  EXPECT_DOUBLE_EQ(unit("kN-m").factor, 1000 * newton * metre);
  EXPECT_DOUBLE_EQ(unit("lbm").factor, 0.45359237 * unit("kg").factor);
  EXPECT_DOUBLE_EQ(unit("mph").factor, 63360.0 / 3600);
  EXPECT_DOUBLE_EQ(unit("deg").factor, std::acos(-1.0) / 180);
  EXPECT_EQ(unit("ft^3").factor, 1728);
  EXPECT_EQ(unit("yd").factor, 36);
}

TEST(UnitList, GravityJoinsMassAndForce) {
  EXPECT_DOUBLE_EQ(unit("lbm*m/s^2").factor * 9.80665, 1);  // weight of one pound of mass, lbf
  EXPECT_DOUBLE_EQ(unit("kg*m/s^2").factor, unit("N").factor);
}

TEST(UnitList, EquivalentSpellings) {
  const std::pair<const char*, const char*> same[] = {
      {"psi", "lbf/in^2"},    {"psf", "lbf/ft^2"},     {"ksi", "kip/in^2"},     {"plf", "lbf/ft"},
      {"pcf", "lbf/ft^3"},    {"ft-lb", "ft-lbf"},     {"in-lb", "in-lbf"},     {"kip-ft", "ft*kip"},
      {"N-m", "N*m"},         {"kN-m", "kN*m"},        {"Pa", "N/m^2"},         {"MPa", "N/mm^2"},
      {"in^1.5", "in^(3/2)"}, {"in^-1", "1/in"},       {"1/degF", "degF^(-1)"}, {"lbf / in", "lbf/in"},
      {"in^(2)", "in*in"},    {"lbf/in/in", "psi"},    {"lbf/ft*ft", "lbf"},    {"turn", "turn^1"},
      {"kN/m", "N/mm"},       {"degC/s", "degC*s^-1"}, {"in^(4/2)", "in^2"}};
  for (const auto& [a, b] : same) {
    const Unit x = unit(a), y = unit(b);
    EXPECT_EQ(x.dimension, y.dimension) << a << " " << b;
    EXPECT_LE(steps_between(x.factor, y.factor), 1) << a << " " << b;
    EXPECT_EQ(x.offset, y.offset) << a << " " << b;
  }
}

TEST(UnitList, NamesAreWrittenInOneWay) {
  EXPECT_EQ(unit(" lbf / in^1.75 ").name, "lbf/in^(7/4)");
  EXPECT_EQ(unit("in^-1").name, "in^(-1)");
  EXPECT_EQ(unit("ft-lb").name, "ft-lbf");
  EXPECT_EQ(unit("1").name, "1");
  EXPECT_EQ(unit("1/degF").name, "1/degF");
}

TEST(Unit, ProductsCommuteAndNamesReadBack) {
  std::mt19937 random(2);
  const auto& rows = unit_list();
  std::uniform_int_distribution<std::size_t> any(1, rows.size() - 1);
  std::uniform_int_distribution<int> top(-7, 7), bottom(1, 4);
  const auto factor = [&] {
    const auto name = std::string(rows[any(random)].name);
    if (name.find('-') != std::string::npos) return name;
    return name + "^(" + std::to_string(top(random)) + "/" + std::to_string(bottom(random)) + ")";
  };
  for (int i = 0; i < 20000; ++i) {
    const std::string a = factor(), b = factor();
    const Unit ab = unit(a + "*" + b), ba = unit(b + "*" + a), back = unit(ab.name);
    ASSERT_EQ(ab.dimension, ba.dimension) << a << " " << b;
    ASSERT_LE(steps_between(ab.factor, ba.factor), 1) << a << " " << b;
    ASSERT_EQ(back, ab) << ab.name;
    ASSERT_EQ(back.name, ab.name);
    const Unit quotient = unit(ab.name + "/" + b);
    ASSERT_EQ(quotient.dimension, unit(a).dimension);
  }
}

TEST(Unit, CelsiusIsATemperatureAloneAndADifferenceInProducts) {
  EXPECT_DOUBLE_EQ(amount("20 degC"), 68);
  EXPECT_DOUBLE_EQ(amount("-40 degC"), -40);
  EXPECT_DOUBLE_EQ(unit("degC").from_canonical(212), 100);
  EXPECT_EQ(unit("1/degC").offset, 0);
  EXPECT_EQ(unit("in/degC").offset, 0);
  EXPECT_EQ(unit("degC*in").offset, 0);
  EXPECT_EQ(unit("degC^2").offset, 0);
}

TEST(Unit, HiddenUnitsOfFormulas) {
  // 1800 G^(3/2) D^(3/4) in lbf/in: the constant carries lbf/in^(7/4).
  const Dimension d34 = unit("in").dimension.power(Exponent(3, 4));
  EXPECT_EQ(unit("lbf/in^(7/4)").dimension * d34, unit("lbf/in").dimension);
  EXPECT_EQ(unit("psi^(1/2)*in^(1/2)").dimension * unit("psi").dimension.power(Exponent(1, 2)) *
                unit("in").dimension.power(Exponent(3, 2)),
            unit("lbf").dimension);
}

TEST(Unit, RefusedWithWhatToWrite) {
  for (const auto* text :
       {"lb", "lbs", "#", "oz", "g", "ton", "t", "k", "kips", "\"", "'", "feet", "inch", "LBS", "°", "F"}) {
    EXPECT_EQ(unit_refusal(text), (Refusal{"U002", text}));
    EXPECT_NE(todo(parse_unit(text).error()), "");
  }
  EXPECT_EQ(todo(parse_unit("lb").error()), "write lbf (force) or lbm (mass)");
  EXPECT_EQ(unit_refusal("kip/lb"), (Refusal{"U002", "lb"}));
  EXPECT_EQ(unit_refusal("lb/ft"), (Refusal{"U002", "lb"}));
}

TEST(Unit, CapitalAndSmallLettersCount) {
  for (const auto* text : {"mPa", "PSI", "kpa", "LBF", "KN", "degf", "M", "Kip", "In", "ft-LB"}) {
    EXPECT_EQ(unit_refusal(text), (Refusal{"U004", text}));
  }
  EXPECT_EQ(todo(parse_unit("mPa").error()), "write MPa if that is meant");
}

TEST(Unit, UnknownWithTheNearest) {
  EXPECT_EQ(unit_refusal("lbff"), (Refusal{"U001", "lbff"}));
  EXPECT_EQ(todo(parse_unit("lbff").error()), "did you mean lbf?");
  EXPECT_EQ(todo(parse_unit("kipp").error()), "did you mean kip?");
  EXPECT_EQ(unit_refusal("lbf/furlong"), (Refusal{"U001", "furlong"}));
  EXPECT_EQ(todo(parse_unit("x").error()).substr(0, 8), "one of: ");
}

TEST(Unit, Grammar) {
  const std::pair<const char*, const char*> bad[] = {{"", ""},
                                                     {"  ", ""},
                                                     {"lbf/", ""},
                                                     {"/in", "/"},
                                                     {"*in", "*"},
                                                     {"in in", "i"},
                                                     {"in^", ""},
                                                     {"in^x", "x"},
                                                     {"in^(1/0)", "(1/0)"},
                                                     {"in^(1/2", "(1/2"},
                                                     {"in^1/2/", "2"},
                                                     {"in**2", "*"},
                                                     {"2", "2"},
                                                     {"1/1", "1"},
                                                     {"in*1", "1"},
                                                     {"1 in", "i"},
                                                     {"1*in", "*"},
                                                     {"(in)", "("},
                                                     {"in^(1.5/2)", "(1.5/2)"},
                                                     {"in^0.1234567", "0.1234567"},
                                                     {"in^1001", "1001"},
                                                     {"in2", "in2"},
                                                     {"in^+2", "+"},
                                                     {"lbf-in^2", "lbf-in"},
                                                     {"in^2^2", "^"},
                                                     {"in^(1/-2)", "(1/"},
                                                     {"in^1e3", "e"},
                                                     {"in^--2", "-"},
                                                     {"in^2.", "2."}};
  for (const auto& [text, at] : bad) {
    EXPECT_EQ(unit_refusal(text), (Refusal{"U003", at})) << text;
  }
}

TEST(Unit, ExtremeProductsAreRefused) {
  EXPECT_EQ(unit_refusal("km^500*km^500").id, "U003");
  EXPECT_EQ(unit_refusal("mm^900*mm^900").id, "U003");
  EXPECT_EQ(unit_refusal("in^(1/997)*in^(1/991)*in^(1/983)*in^(1/977)").id, "U003");
}

// ---- quantities

TEST(Quantity, Forms) {
  EXPECT_DOUBLE_EQ(amount("24.6 psf"), 24.6 / 144);
  EXPECT_DOUBLE_EQ(amount("24.6psf"), 24.6 / 144);
  EXPECT_EQ(amount("3/16 in"), 0.1875);
  EXPECT_EQ(amount("1-1/2 in"), 1.5);
  EXPECT_EQ(amount("1 1/2 in"), 1.5);
  EXPECT_EQ(amount("0.42"), 0.42);
  EXPECT_EQ(amount("2/37"), 2.0 / 37);
  EXPECT_EQ(amount("3 %"), 0.03);
  EXPECT_EQ(amount("-20 lbf"), -20);
  EXPECT_EQ(amount("-3.5 in"), -3.5);
  EXPECT_EQ(amount("\u22123.5 in"), -3.5);
  EXPECT_EQ(amount("+3 in"), 3);
  EXPECT_EQ(amount("1.0e6 psi"), 1e6);
  EXPECT_EQ(amount("1e-3 in"), 1e-3);
  EXPECT_EQ(amount("  5 ft-lb "), 60);
  EXPECT_EQ(amount("5 ft"), 60);
  EXPECT_EQ(amount("7'-4 5/8\""), 88.625);
  EXPECT_EQ(amount("7ft 4.625in"), 88.625);
  EXPECT_EQ(amount("8 feet"), 96);
  EXPECT_EQ(amount("1800 lbf/in^(7/4)"), 1800);
  EXPECT_DOUBLE_EQ(amount("90 deg"), std::acos(0.0));
  EXPECT_DOUBLE_EQ(amount("115 mph"), 115 * 17.6);
  EXPECT_EQ(parse_quantity("24.6 psf")->shown.name, "psf");
}

TEST(Quantity, Refusals) {
  EXPECT_EQ(quantity_refusal("165 lb"), (Refusal{"U002", "lb"}));
  EXPECT_EQ(quantity_refusal(" 24.6  psff"), (Refusal{"U001", "psff"}));
  EXPECT_EQ(quantity_refusal("5 mPa"), (Refusal{"U004", "mPa"}));
  EXPECT_EQ(quantity_refusal("1 1/2"), (Refusal{"U010", "1 1/2"}));
  EXPECT_EQ(refusal(parse_quantity("8", Bare::refuse), "8"), (Refusal{"U010", "8"}));
  EXPECT_EQ(quantity_refusal("1/0 in"), (Refusal{"U013", "1/0"}));
  EXPECT_EQ(quantity_refusal("-3'-4\""), (Refusal{"U014", "-3"}));
  EXPECT_EQ(quantity_refusal("2,25 m"), (Refusal{"U015", "2,25"}));
  EXPECT_EQ(quantity_refusal("1,250 psf"), (Refusal{"U015", "1,250"}));
  EXPECT_EQ(quantity_refusal("1e999 in"), (Refusal{"U005", "1e999"}));
  EXPECT_EQ(quantity_refusal("1e307 km"), (Refusal{"U005", "1e307"}));
  for (const auto* text :
       {"", " ", "psf", "unknown", "5 1 in", "1.2.3 in", "--5 in", "+-5 in", "24.6-psf", "0x10 in", "nan", "inf"})
    EXPECT_NE(quantity_refusal(text).id, "read") << text;
  EXPECT_EQ(quantity_refusal("unknown"), (Refusal{"U016", "unknown"}));
  EXPECT_EQ(quantity_refusal("5 1 in"), (Refusal{"U016", "1 in"}));
}

TEST(Quantity, MetricNamesTheSameAmount) {
  EXPECT_EQ(amount("12.7 mm"), 0.5);
  EXPECT_EQ(amount("6.35 mm"), 0.25);  // the edge of a range must not be missed by the last bit
  EXPECT_EQ(amount("144 psf"), 1);
  int equal = 0;
  for (int n = 0; n <= 240 * 16; ++n) {
    const double in = n / 16.0;
    // 1 in is 25.4 mm: the decimal text of the product is exact with 4 decimals.
    const std::string mm = fmt::format("{}.{:04} mm", n * 15875L / 10000, n * 15875L % 10000);
    ASSERT_LE(steps_between(amount(mm), in), 1) << mm;
    ASSERT_LE(steps_between(inches(mm), in), 1) << mm;
    equal += amount(mm) == in ? 1 : 0;
  }
  EXPECT_EQ(equal, 240 * 16 + 1);
}

TEST(Quantity, ToAndFromCanonicalAgree) {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> size(0.001, 1000);
  for (const auto& row : unit_list()) {
    const Unit u = unit(row.name);
    for (int i = 0; i < 200; ++i) {
      const double value = size(random);
      ASSERT_NEAR(u.from_canonical(u.to_canonical(value)), value, 1e-12 * (value + 100)) << row.name;
    }
  }
}

TEST(Quantity, CheckValues) {
  EXPECT_EQ(inches("7'-4 5/8\""), 88.625);                                      // UNIT-feetinch-1
  EXPECT_DOUBLE_EQ(unit("mm").from_canonical(inches("7'-4 5/8\"")), 2251.075);  // UNIT-feetinch-1
  EXPECT_EQ(inches("0'-0 5/16\""), 0.3125);                                     // UNIT-feetinch-2
  EXPECT_DOUBLE_EQ(unit("mm").from_canonical(inches("0'-0 5/16\"")), 7.9375);   // UNIT-feetinch-2
  EXPECT_NEAR(unit("Pa").from_canonical(amount("1 psf")), 47.880259, 0.5e-6);   // UNIT-pressure
}

TEST(Quantity, Show) {
  EXPECT_EQ(show(378.4112, unit("lbf/in")), "378.4 lbf/in");
  EXPECT_EQ(show(0.5, unit("mm")), "12.7 mm");
  EXPECT_EQ(show(0.03, unit("%")), "3 %");
  EXPECT_EQ(show(0.42, unit("1")), "0.42");
  EXPECT_EQ(show(88.625, unit("in"), 5), "88.625 in");
  EXPECT_EQ(show(std::nan(""), unit("in")), "no value");
}

TEST(Quantity, Convert) {
  EXPECT_EQ(*convert(*parse_quantity("2 kip"), unit("lbf").dimension, "load"), 2000);
  const auto wrong = convert(*parse_quantity("700 psi"), unit("lbf").dimension, "demand.tension");
  ASSERT_FALSE(wrong);
  EXPECT_EQ(wrong.error().id, MessageId::U020);
  EXPECT_EQ(text::make(MessageId::U020, {}, wrong.error().args).sentence,
            "demand.tension: 700 psi is pressure (length^(-2) force), but force is wanted");
  const auto speed = convert(*parse_quantity("115 mph"), unit("psf").dimension, "site.wind.inward");
  ASSERT_FALSE(speed);
  EXPECT_EQ(text::make(speed.error().id, {}, speed.error().args).sentence,
            "site.wind.inward: 115 mph is a speed, a pressure is needed here (psf or Pa)");
  EXPECT_EQ(convert(*parse_quantity("30 m/s"), unit("Pa").dimension, "p").error().id, MessageId::U021);
  EXPECT_EQ(convert(*parse_quantity("115 mph"), unit("in").dimension, "p").error().id, MessageId::U020);
}

// ---- lengths

TEST(Length, SameLengthInManyForms) {
  for (const auto* text : {"7'-4 5/8\"",
                           "7' 4-5/8\"",
                           "7'4 5/8\"",
                           "7ft 4.625in",
                           "7 ft - 4 5/8 in",
                           "7 feet 4 5/8 inches",
                           "88 5/8\"",
                           "88-5/8\"",
                           "88.625in",
                           "88.625 in",
                           "88.625\"",
                           "7\u2019-4 5/8\u201D",
                           "7\u2018 4 5/8\u201C",
                           "7\u20324\u215D\u2033",
                           "7'-4 \u215D\"",
                           "88\u215D in",
                           "88 5\u20448\"",
                           "7'\u20134 5/8\"",
                           "7'\u00A04\u00A05/8\"",
                           "  88 5/8 inches ",
                           "7'-4-5/8\"",
                           "709/8 in",
                           "88.625 in\u00A0"}) {
    EXPECT_EQ(inches(text), 88.625) << text;
    EXPECT_EQ(amount(text), 88.625) << text;
  }
  EXPECT_NEAR(inches("7.385416666666667 ft"), 88.625, 1e-13);
  EXPECT_LE(steps_between(inches("2251.075mm"), 88.625), 1);
  EXPECT_LE(steps_between(inches("2.251075 m"), 88.625), 1);
  EXPECT_LE(steps_between(inches("225.1075 cm"), 88.625), 1);
}

TEST(Length, SmallOnes) {
  const std::pair<const char*, double> all[] = {
      {"\u00BD\"", 0.5},   {"\u00BC\"", 0.25},  {"\u00BE in", 0.75}, {"\u215B\"", 0.125},
      {"\u215C\"", 0.375}, {"\u215D\"", 0.625}, {"\u215E\"", 0.875}, {"7'4\"", 88},
      {"8'", 96},          {"0'", 0},           {"8 ft", 96},        {"7.5 ft", 90},
      {"1 1/2 ft", 18},    {"1-1/2 in", 1.5},   {"3/16\"", 0.1875},  {"0'-11 15/16\"", 11.9375},
      {"2 yd", 72},        {".5 in", 0.5},      {"0 in", 0},         {"8' .5\"", 96.5},
      {"8 foot", 96},      {"1 inch", 1}};
  for (const auto& [text, in] : all) EXPECT_EQ(inches(text), in) << text;
}

TEST(Length, ShownInTheUnitOfTheText) {
  EXPECT_EQ(parse_length("8'")->shown.name, "ft");
  EXPECT_EQ(parse_length("8'-1\"")->shown.name, "in");
  EXPECT_EQ(parse_length("2251 mm")->shown.name, "mm");
  EXPECT_EQ(parse_length("8'")->shown, unit("ft"));
  EXPECT_EQ(parse_length("8\"")->shown, unit("in"));
}

TEST(Length, Refusals) {
  const std::array<const char*, 3> all[] = {{"8", "U010", "8"},
                                            {"3/8", "U010", "3/8"},
                                            {" 1 1/2 ", "U010", "1 1/2"},
                                            {"8' 4", "U010", "4"},
                                            {"7'-4 5/8", "U010", "4 5/8"},
                                            {"7.3'4\"", "U011", "7.3"},
                                            {"7 1/2' 4\"", "U011", "7 1/2"},
                                            {"7.0ft 4in", "U011", "7.0"},
                                            {"\u00BD' 4\"", "U011", "\u00BD"},
                                            {"8'14\"", "U012", "14"},
                                            {"8'-12\"", "U012", "12"},
                                            {"8ft 12.5 in", "U012", "12.5"},
                                            {"1/0", "U013", "1/0"},
                                            {"1/0\"", "U013", "1/0"},
                                            {"8'-4 1/0\"", "U013", "1/0"},
                                            {"-8 in", "U014", "-8"},
                                            {"-8", "U014", "-8"},
                                            {"- 1/2\"", "U014", "- 1/2"},
                                            {"\u22128'", "U014", "\u22128"},
                                            {"2,25 m", "U015", "2,25"},
                                            {"8'-4,5\"", "U015", "4,5"},
                                            {"1,200 mm", "U015", "1,200"},
                                            {"4 5/3\"", "U017", "5/3"},
                                            {"4-8/8 in", "U017", "8/8"},
                                            {"", "U016", ""},
                                            {"eight", "U016", "eight"},
                                            {"8' 4\" 5/8", "U016", "5/8"},
                                            {"8\" 4'", "U016", "4'"},
                                            {"8'-", "U016", "-"},
                                            {"8'--4\"", "U016", "--4\""},
                                            {"4.5 5/8\"", "U016", "5/8\""},
                                            {"8'4'", "U016", "'"},
                                            {"8' 100 mm", "U016", "mm"},
                                            {"8' x 10'", "U016", "x 10'"},
                                            {"4 - 5/8\"", "U016", "- 5/8\""},
                                            {"8 in 5/8", "U016", "5/8"},
                                            {"1.5/2 in", "U016", "/2 in"},
                                            {"+8 in", "U016", "+8 in"},
                                            {"7'4''", "U016", "''"},
                                            {"-x", "U016", "-x"},
                                            {"8..5 in", "U016", ".5 in"},
                                            {"5 % in", "U016", "% in"},
                                            {"8 lbf", "U020", "8 lbf"},
                                            {"8 ft-lbf", "U020", "8 ft-lbf"},
                                            {"8 in^2", "U020", "8 in^2"},
                                            {"8 ft/s", "U020", "8 ft/s"},
                                            {"8 lb", "U002", "lb"},
                                            {"8 MM", "U004", "MM"},
                                            {"8 fet", "U001", "fet"},
                                            {"1e400 in", "U005", "1e400"}};
  for (const auto& [text, id, at] : all) EXPECT_EQ(length_refusal(text), (Refusal{id, at})) << text;
}

TEST(Length, WordsOfTheMessages) {
  const auto sentence = [](const char* text) {
    const auto read = parse_length(text);
    return text::make(read.error().id, {}, read.error().args).sentence;
  };
  EXPECT_EQ(sentence("8"), "'8': 8 what?");
  EXPECT_EQ(sentence("8 lbf"), "the length: 8 lbf is force, but length is wanted");
  EXPECT_EQ(sentence("8'14\""), "14 inches after feet are a foot or more");
  EXPECT_EQ(sentence("8'-"), "'8'-' is not understood as an amount: it is not understood from '-' on");
}

TEST(Tape, Prints) {
  EXPECT_EQ(tape(88.625), "7'-4 5/8\"");
  EXPECT_EQ(tape(0.3125), "5/16\"");
  EXPECT_EQ(tape(84), "7'-0\"");
  EXPECT_EQ(tape(84.625), "7'-0 5/8\"");
  EXPECT_EQ(tape(0), "0\"");
  EXPECT_EQ(tape(11.9375), "11 15/16\"");
  EXPECT_EQ(tape(88.63), "~7'-4 5/8\"");
  EXPECT_EQ(tape(11.99), "~1'-0\"");
  EXPECT_EQ(tape(0.001), "~0\"");
  EXPECT_EQ(tape(-0.001), "~0\"");
  EXPECT_EQ(tape(-88.625), "-7'-4 5/8\"");
  EXPECT_EQ(tape(88.625 + 0.5e-6), "7'-4 5/8\"");
  EXPECT_EQ(tape(88.625 + 2e-6), "~7'-4 5/8\"");
  EXPECT_EQ(tape_inches(88.625), "88 5/8\"");
  EXPECT_EQ(tape_inches(0.5), "1/2\"");
  EXPECT_EQ(tape_inches(96), "96\"");
  EXPECT_EQ(tape(std::nan("")), "no value");
  EXPECT_EQ(tape(HUGE_VAL), "unlimited");
}

TEST(Tape, EachSixteenthReadsBackExactly) {
  for (int n = 0; n <= 240 * 16; ++n) {
    const double in = n / 16.0;
    ASSERT_EQ(inches(tape(in)), in) << tape(in);
    ASSERT_EQ(inches(tape_inches(in)), in) << tape_inches(in);
    ASSERT_EQ(amount(tape(in)), in) << tape(in);
    ASSERT_EQ(amount(text::shortest(in) + " in"), in);
  }
}

// ---- any bytes at all

/// Texts that are nearly right: pieces of good ones, glued, cut and with single bytes changed.
class Garbage {
 public:
  explicit Garbage(unsigned seed) : random_(seed) {}
  std::string next() {
    static const char* const pieces[] = {"7",      "4",      "5/8",    "'",     "\"", "-",      " ",      "ft",
                                         "in",     "mm",     ".",      ",",     "^",  "(7/4)",  "*",      "/",
                                         "lbf",    "psi",    "1",      "0",     "e9", "\u00BD", "\u2044", "\u2019",
                                         "\u201D", "\u2013", "degC",   "ft-lb", "%",  "12",     "1/0",    "in^2",
                                         "km^300", "^-1",    "\u00A0", "+",     "lb", "#",      "(",      ")"};
    std::string out;
    const int count = below(7);
    for (int i = 0; i < count; ++i) {
      if (below(8) == 0)
        out += static_cast<char>(below(256));
      else
        out += pieces[below(static_cast<int>(std::size(pieces)))];
    }
    if (!out.empty() && below(6) == 0) out.resize(out.size() - 1);
    return out;
  }

 private:
  int below(int n) { return std::uniform_int_distribution<int>(0, n - 1)(random_); }
  std::mt19937 random_;
};

/// Whether only signs of the grammar are in the text. `more` are UTF-8 signs allowed besides ASCII.
bool only_known_signs(std::string_view text, std::string_view ascii, const std::vector<std::string_view>& more) {
  while (!text.empty()) {
    std::size_t taken = 0;
    const char c = text.front();
    if (std::isalnum(static_cast<unsigned char>(c)) != 0 || ascii.find(c) != std::string_view::npos) taken = 1;
    for (const auto sign : more)
      if (text.substr(0, sign.size()) == sign) taken = sign.size();
    if (taken == 0) return false;
    text.remove_prefix(taken);
  }
  return true;
}

TEST(AnyBytes, NeverCrashAndNeverReadWhatIsNotInTheGrammar) {
  const std::vector<std::string_view> typographic = {
      "\u2010", "\u2011", "\u2012", "\u2013", "\u2212", "\u2044", "\u2018", "\u2019", "\u2032", "\u201C", "\u201D",
      "\u2033", "\u00A0", "\u2009", "\u202F", "\u00BD", "\u00BC", "\u00BE", "\u215B", "\u215C", "\u215D", "\u215E"};
  Garbage garbage(4);
  int units = 0, lengths = 0, quantities = 0;
  for (int i = 0; i < 200000; ++i) {
    const std::string text = garbage.next();
    if (const auto u = parse_unit(text)) {
      ++units;
      ASSERT_TRUE(only_known_signs(text, " \t*/^().-%", {})) << text;
      ASSERT_TRUE(std::isfinite(u->factor) && u->factor > 0) << text;
      ASSERT_EQ(unit(u->name), *u) << text;
    } else {
      unit_refusal(text);
    }
    if (const auto l = parse_length(text)) {
      ++lengths;
      ASSERT_TRUE(only_known_signs(text, " \t*/^().-%'\"+", typographic)) << text;
      ASSERT_TRUE(std::isfinite(l->value) && l->value >= 0) << text;
      const auto q = parse_quantity(text);
      ASSERT_TRUE(q) << text;
      ASSERT_EQ(q->value, l->value) << text;
    } else {
      length_refusal(text);
    }
    if (const auto q = parse_quantity(text)) {
      ++quantities;
      ASSERT_TRUE(only_known_signs(text, " \t*/^().-%'\"+", typographic)) << text;
      ASSERT_TRUE(std::isfinite(q->value)) << text;
    } else {
      quantity_refusal(text);
    }
  }
  // The test tests nothing when hardly anything is read.
  EXPECT_GT(units, 2000);
  EXPECT_GT(lengths, 500);
  EXPECT_GT(quantities, 3000);
}

}  // namespace
}  // namespace jambcheck::units
