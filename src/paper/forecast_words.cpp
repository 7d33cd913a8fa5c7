#include "paper/forecast_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

namespace firstdraw::paper {

using draw::at;

std::string tap_name(const job::Job& job, const forecast::OutletAnswer& outlet) {
  const job::Outlet& of = job.outlets.at(at(outlet.outlet));
  return outlet.tap + " · " + of.fixture + (of.room.empty() ? "" : ", " + of.room);
}

std::string wait_text(double wait_s) {
  if (std::isnan(wait_s)) return "–";
  if (std::isinf(wait_s)) return "never";
  constexpr double longest_counted_s = std::tuple_size_v<decltype(draw::TapResult::hot_after_s)> - 1;
  return wait_s >= longest_counted_s ? fmt::format("{:.0f} s or more", longest_counted_s)
                                     : fmt::format("{:.0f} s", wait_s);
}

std::string wait_spread(const forecast::Spread& wait_s) {
  if (std::isnan(wait_s.p50)) return "–";
  return fmt::format("{} ({} to {})", wait_text(wait_s.p50), wait_text(wait_s.p5), wait_text(wait_s.p95));
}

std::string litres_text(const Show& show, double litres) {
  const double shown = show.value(litres / 1000, Kind::volume);
  return count(shown, shown < 10 ? 2 : shown < 100 ? 1 : 0) + " " + show.unit(Kind::volume);
}

std::string what_was_simulated(const forecast::Forecast& forecast) {
  std::string text =
      fmt::format("{:.3g} day{} from Monday 00:00", forecast.days, forecast.days == 1 ? "" : "s");
  if (forecast.options.recorded.empty() && forecast.options.tapping.empty())
    text += fmt::format(", seed {}", forecast.options.seed);
  text += forecast.members > 1 ? fmt::format(", {} buildings within the tolerances", forecast.members)
                               : ", the building as planned";
  if (forecast.options.cold_start) text += ", from a cold start";
  if (!forecast.options.faults.empty())
    text += fmt::format(", with {} faults", forecast.options.faults.size());
  return text + (forecast.stopped ? "; stopped before the end" : "");
}

std::string where_draws_come_from(const job::Job& job, const forecast::Forecast& forecast) {
  if (!forecast.options.recorded.empty()) return "recorded draws";
  if (!forecast.options.tapping.empty()) return "tapping profile " + forecast.options.tapping;
  return job.profiles.empty() ? "published patterns of use, assumed: not this building's own"
                              : "patterns of use that the job gives, published ones elsewhere";
}

std::vector<int> slowest_first(const forecast::Forecast& forecast) {
  std::vector<int> taps;
  for (std::size_t each = 0; each < forecast.outlets.size(); ++each)
    if (forecast.outlets[each].draws_per_day > 0) taps.push_back(static_cast<int>(each));
  const auto slowness = [&](int tap) {
    const forecast::OutletAnswer& outlet = forecast.outlets[at(tap)];
    return std::tuple(-outlet.hot_after_s.p50, -outlet.hot_after_s.p95, std::string_view(outlet.tap));
  };
  std::ranges::sort(taps, {}, slowness);
  return taps;
}

int coldest_tap(const forecast::Forecast& forecast) {
  int coldest = draw::none;
  for (std::size_t each = 0; each < forecast.outlets.size(); ++each) {
    if (!(forecast.outlets[each].draws_per_day > 0)) continue;
    const auto opening_c = [&](int tap) { return forecast.outlets[at(tap)].since_open_c.front().p50; };
    if (coldest == draw::none || opening_c(static_cast<int>(each)) < opening_c(coldest))
      coldest = static_cast<int>(each);
  }
  return coldest;
}

int typical_tap(const forecast::Forecast& forecast) {
  const std::vector<int> taps = slowest_first(forecast);
  return taps.empty() ? draw::none : taps[taps.size() / 2];
}

void footing(Book& book, const Pack& pack) {
  paragraph(book,
            fmt::format("Simulated, not measured: {}. Draws: {}. Lukewarm water lets Legionella multiply and "
                        "hot water scalds (see Cautions). The building's water management plan and the "
                        "authority having jurisdiction decide what is acceptable, not this sheet.",
                        what_was_simulated(*pack.forecast), where_draws_come_from(pack.job, *pack.forecast)),
            small_style);
}

}  // namespace firstdraw::paper
