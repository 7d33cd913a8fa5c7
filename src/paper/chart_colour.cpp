// The shades of heat maps.
#include <algorithm>
#include <array>
#include <cmath>

#include "paper/chart.hpp"

namespace firstdraw::paper {
namespace {

struct Lab {
  double lightness, a, b;
};
constexpr Lab pale{93, -4, 32}, dark{22, 10, -38};

// CIE 15:2018, from L*a*b* to XYZ of white D65.
double from_lab(double f) { return f > 6.0 / 29 ? f * f * f : 3 * (6.0 / 29) * (6.0 / 29) * (f - 4.0 / 29); }

// IEC 61966-2-1: sRGB.
double gamma(double light) {
  light = std::clamp(light, 0.0, 1.0);
  return light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1 / 2.4) - 0.055;
}

double linear(double gamma) {
  return gamma <= 0.04045 ? gamma / 12.92 : std::pow((gamma + 0.055) / 1.055, 2.4);
}

Colour srgb(const Lab& lab) {
  const double f = (lab.lightness + 16) / 116;
  const double x = 0.95047 * from_lab(f + lab.a / 500), y = from_lab(f),
               z = 1.08883 * from_lab(f - lab.b / 200);
  return {gamma(3.2406 * x - 1.5372 * y - 0.4986 * z), gamma(-0.9689 * x + 1.8758 * y + 0.0415 * z),
          gamma(0.0557 * x - 0.2040 * y + 1.0570 * z)};
}

}  // namespace

Colour heat_colour(double share) {
  const double t = std::isfinite(share) ? std::clamp(share, 0.0, 1.0) : 0;
  return srgb({std::lerp(pale.lightness, dark.lightness, t), std::lerp(pale.a, dark.a, t),
               std::lerp(pale.b, dark.b, t)});
}

// WCAG 2.1: black and white are equally far from a ground of this relative luminance.
Colour ink_on(const Colour& ground) {
  constexpr double middle = 0.179;
  const double luminance =
      0.2126 * linear(ground.red) + 0.7152 * linear(ground.green) + 0.0722 * linear(ground.blue);
  return luminance > middle ? Colour{0, 0, 0} : colours::white;
}

}  // namespace firstdraw::paper
