#include "kerfwright/measure/angle.h"

#include <cmath>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace kw {
namespace {

double sine_of_degrees(double d) {
  return sine_of(Angle::degrees(d));
}
double cosine_of_degrees(double d) {
  return cosine_of(Angle::degrees(d));
}
double tangent_of_degrees(double d) {
  return tangent_of(Angle::degrees(d));
}

TEST(Trigonometry, IsExactWhereADoubleCanBe) {
  EXPECT_EQ(sine_of_degrees(30), 0.5);
  EXPECT_EQ(sine_of_degrees(150), 0.5);
  EXPECT_EQ(sine_of_degrees(-30), -0.5);
  EXPECT_EQ(sine_of_degrees(180), 0.0);
  EXPECT_EQ(sine_of_degrees(270), -1.0);
  EXPECT_EQ(cosine_of_degrees(60), 0.5);
  EXPECT_EQ(cosine_of_degrees(120), -0.5);
  EXPECT_EQ(cosine_of_degrees(90), 0.0);
  EXPECT_EQ(cosine_of_degrees(-720), 1.0);
  EXPECT_EQ(tangent_of_degrees(45), 1.0);
  EXPECT_EQ(tangent_of_degrees(135), -1.0);
  EXPECT_EQ(tangent_of_degrees(-45), -1.0);
}

TEST(Trigonometry, HasNoTangentAtARightAngle) {
  EXPECT_TRUE(std::isinf(tangent_of_degrees(90)));
  EXPECT_TRUE(std::isinf(tangent_of_degrees(-450)));
  EXPECT_TRUE(std::isinf(tangent_of_degrees(90 + 1e-11)));
  EXPECT_FALSE(std::isinf(tangent_of_degrees(90 + 1e-9)));
}

RC_GTEST_PROP(TrigonometryProperty, AgreesWithTheLongDoubleLibrary, ()) {
  const double d = *rc::gen::inRange(-7'200'000, 7'200'000) / 10'000.0;
  const long double radians = static_cast<long double>(d) * 3.14159265358979323846264338328L / 180;
  RC_ASSERT(std::abs(sine_of_degrees(d) - static_cast<double>(std::sin(radians))) < 3e-16);
  RC_ASSERT(std::abs(cosine_of_degrees(d) - static_cast<double>(std::cos(radians))) < 3e-16);
}

TEST(Angle, RoundsToAStep) {
  EXPECT_EQ(round_to(Angle::degrees(35.3), Angle::degrees(0.5)).in_degrees(), 35.5);
  EXPECT_EQ(round_to(Angle::degrees(-22.25), Angle::degrees(0.5)).in_degrees(), -22.5);
  EXPECT_EQ(round_to(Angle::degrees(7), Angle()).in_degrees(), 7);
}

TEST(Quantity, WeighsAVolume) {
  // A board of 25 x 100 x 1000 mm at 450 kg/m^3.
  EXPECT_NEAR(mass_of(Volume{25.0 * 100 * 1000}, Density{450}).value, 1.125, 1e-12);
}

}  // namespace
}  // namespace kw
