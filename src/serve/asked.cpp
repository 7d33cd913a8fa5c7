#include "serve/asked.hpp"

#include "serve/numbers.hpp"

namespace firstdraw::serve {

namespace {

constexpr int most_samples = 5'000;

}  // namespace

Maybe<Asked> asked_of(const Call& call) {
  Asked asked;
  if (const auto units = call.asked("units")) {
    if (*units != "us" && *units != "metric")
      return refuse(Why::bad_input, "units are us or metric", "", "units");
    asked.units = *units == "us" ? units::System::us : units::System::metric;
  }
  if (const auto samples = call.asked("samples")) {
    const auto number = whole_number(*samples, 0, most_samples);
    if (!number) return refuse(Why::bad_input, "a whole number from 0 to 5000 was expected", "", "samples");
    asked.samples = static_cast<int>(*number);
  }
  return asked;
}

}  // namespace firstdraw::serve
