#include "settings/why_not.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "forecast/ensemble.hpp"
#include "settings/cheapest_search.hpp"
#include "settings/needs.hpp"
#include "week/over_threads.hpp"

namespace firstdraw::settings {
namespace {

constexpr double coarse_grid_k = 0.5;  // of every search here, the job's own included
constexpr double higher_k = 3;         // highest set-point eased by
constexpr double a_week_h = 7 * 24;

/// What is asked, and of what.
struct Variant {
  job::Job job;
  std::vector<GroupModel> models;
  Asked asked;
};

/// How much of one search is done; false: stop.
using Report = std::function<bool(double done_frac)>;

struct YearFound {
  bool possible = false;
  double cost = 0, bound = 0;
};

Variant as_asked(const SearchBase& base) { return {base.job, base.models, asked_of(base.job)}; }

SearchOptions coarse(const SearchBase& base) {
  SearchOptions options = base.options;
  options.grid_k = std::max(options.grid_k, coarse_grid_k);
  options.rounds = 0;
  options.threads = 1;
  options.effort.rounds = std::min(options.effort.rounds, 12);
  return options;
}

std::vector<GroupNeeds> needs_for(const SearchBase& base, const Variant& variant) {
  return needs_of(variant.job, base.plan, base.scene, base.demand, variant.models, variant.asked,
                  base.options.step_s);
}

/// All seasons, in the steady model. Not possible, too, once somebody asked to stop.
YearFound year_of(const SearchBase& base, const Variant& variant, const std::vector<GroupNeeds>& needs,
                  const Menu& menu, const Report& report) {
  YearFound year{true, 0, 0};
  double done = 0;
  for (const SeasonOfYear& season : base.seasons) {
    const CheapestWeek week = search_week(variant.job, variant.models, needs, season, coarse(base), menu);
    if (!week.plan.possible || !report(++done / static_cast<double>(base.seasons.size()))) return {};
    year.cost += week.plan.cost.total();
    year.bound += week.bound;
  }
  return year;
}

std::optional<Menu> menu_for(const SearchBase& base, const Variant& variant,
                             const std::vector<GroupNeeds>& needs) {
  const auto menu = menu_of(variant.job, variant.models, needs, coarse(base));
  return menu ? std::optional(*menu) : std::nullopt;
}

struct Easing {
  std::string demand, eased;
  std::function<void(Variant&)> change;
};

std::string fixture_words(const job::ComfortTarget& target) {
  if (target.fixture == "*") return "every other fixture";
  std::string words = target.fixture;
  std::ranges::replace(words, '-', ' ');
  return words;
}

class Easings {
 public:
  explicit Easings(const SearchBase& base) : base_(base), asked_(asked_of(base.job)) {
    demands();
    comfort();
    clock();
    set_points();
  }
  std::vector<Easing> all;

 private:
  void add(std::string demand, std::string eased, std::function<void(Variant&)> change) {
    all.push_back({std::move(demand), std::move(eased), std::move(change)});
  }

  bool band_is_asked(const Asked& asked) const {
    Variant variant = as_asked(base_);
    variant.asked = asked;
    return std::ranges::any_of(needs_for(base_, variant),
                               [](const GroupNeeds& needs) { return std::isfinite(needs.most_below_s); });
  }

  void demands() {
    if (asked_.guideline_temperature)
      add("Guideline's temperature at all times", "not asked",
          [](Variant& v) { v.asked.guideline_temperature = false; });
    if (asked_.hot_hold) add("Weekly hot hold", "not asked", [](Variant& v) { v.asked.hot_hold = false; });
    if (!band_is_asked(asked_)) return;
    if (asked_.band_h) {
      const double hours = *asked_.band_h + 1;
      add("Longest time in the growth band", fmt::format("{:g} h on end", hours),
          [hours](Variant& v) { v.asked.band_h = hours; });
    } else {
      add("Longest time in the growth band", "not asked", [](Variant& v) { v.asked.band_h = a_week_h; });
    }
  }

  void comfort() {
    for (std::size_t i = 0; i < base_.job.week.comfort.size(); ++i)
      if (base_.job.week.comfort[i].hot_frac > 0)
        add("Comfort at " + fixture_words(base_.job.week.comfort[i]), "none asked",
            [i](Variant& v) { v.job.week.comfort[i].hot_frac = 0; });
  }

  void clock() {
    using Limits = job::ControllerLimits;
    const Limits& now = base_.job.controller;
    if (now.clock != Limits::Clock::set_points)
      add(now.clock == Limits::Clock::none ? "No clock" : "A clock that only switches off and on",
          "a clock that changes the set-point",
          [](Variant& v) { v.job.controller.clock = Limits::Clock::set_points; });
    if (now.clock == Limits::Clock::none) return;
    add(fmt::format("{} period{} a day", now.periods_a_day, now.periods_a_day == 1 ? "" : "s"),
        fmt::format("{} periods a day", now.periods_a_day + 1),
        [](Variant& v) { ++v.job.controller.periods_a_day; });
    if (now.programs == Limits::Programs::one)
      add("One program for all days", "working days and weekend",
          [](Variant& v) { v.job.controller.programs = Limits::Programs::workdays_weekend; });
    if (now.programs == Limits::Programs::workdays_weekend)
      add("Programs for working days and weekend", "each day its own",
          [](Variant& v) { v.job.controller.programs = Limits::Programs::each_day; });
    if (const double step_s = base_.options.step_s; now.clock_step_s > step_s * 1.001)
      add(fmt::format("Clock step of {:g} min", now.clock_step_s / 60), fmt::format("{:g} min", step_s / 60),
          [step_s](Variant& v) { v.job.controller.clock_step_s = step_s; });
    if (!now.off) add("No period may be off", "off allowed", [](Variant& v) { v.job.controller.off = true; });
  }

  void set_points() {
    using Limits = job::ControllerLimits;
    const Limits& now = base_.job.controller;
    const auto shown_k = [&](double k) {
      return units::show(k, units::Kind::temperature_difference, base_.job.units);
    };
    add("Highest set-point", shown_k(higher_k) + " more", [](Variant& v) {
      for (GroupModel& model : v.models) model.most_settable_c += higher_k;
    });
    if (now.clock != Limits::Clock::set_points) return;
    add(fmt::format("{} set-point{} a week", now.set_points, now.set_points == 1 ? "" : "s"),
        fmt::format("{} set-points a week", now.set_points + 1),
        [](Variant& v) { ++v.job.controller.set_points; });
    if (now.least_setback_k > 0)
      add("Least set-back of " + shown_k(now.least_setback_k), "none",
          [](Variant& v) { v.job.controller.least_setback_k = 0; });
  }

  const SearchBase& base_;
  Asked asked_;
};

/// The eased menu holds the menu of the job as asked, so that what is eased can only cost less.
YearFound eased_year(const SearchBase& base, const Easing& easing, const Menu& menu, const Report& report) {
  Variant variant = as_asked(base);
  easing.change(variant);
  const std::vector<GroupNeeds> needs = needs_for(base, variant);
  const auto own = menu_for(base, variant, needs);
  if (!own) return {};
  return year_of(base, variant, needs, joined(menu, *own), report);
}

using Curve = std::vector<FrontierPoint>;

/// All points are searched with one menu, that of all of them together.
Curve curve_of(const SearchBase& base, const std::vector<double>& values,
               const std::function<void(Variant&, double)>& change) {
  std::vector<Variant> variants;
  std::vector<std::vector<GroupNeeds>> needs;
  std::vector<bool> can_be;
  std::optional<Menu> menu;
  for (const double value : values) {
    change(variants.emplace_back(as_asked(base)), value);
    needs.push_back(needs_for(base, variants.back()));
    const auto own = menu_for(base, variants.back(), needs.back());
    can_be.push_back(own.has_value());
    if (own) menu = menu ? joined(*menu, *own) : *own;
  }
  Curve points(values.size());
  forecast::SharedProgress progress(base.progress, values.size());
  week::over_threads(base.options.threads, values.size(), [&](std::size_t i) {
    points[i].asked = values[i];
    if (!can_be[i] || progress.stopped()) return;
    const YearFound year =
        year_of(base, variants[i], needs[i], *menu, [&](double done) { return progress.report(i, done); });
    points[i] = {values[i], year.possible, year.cost, year.bound, false};
  });
  return points;
}

/// What keeps more keeps less too: no point costs more than one that asks more, no bound lies above that of
/// one that asks more. `rises`: a higher figure asks more.
void lay_straight(Curve& points, bool rises) {
  std::vector<FrontierPoint*> from_hardest;
  for (FrontierPoint& point : points)
    if (point.possible) from_hardest.push_back(&point);
  std::ranges::sort(from_hardest, [&](const FrontierPoint* a, const FrontierPoint* b) {
    return rises ? a->asked > b->asked : a->asked < b->asked;
  });
  for (std::size_t i = 1; i < from_hardest.size(); ++i)
    from_hardest[i]->cost_per_year =
        std::min(from_hardest[i]->cost_per_year, from_hardest[i - 1]->cost_per_year);
  for (std::size_t i = from_hardest.size(); i-- > 1;)
    from_hardest[i - 1]->bound_per_year =
        std::max(from_hardest[i - 1]->bound_per_year, from_hardest[i]->bound_per_year);
}

}  // namespace

std::vector<DemandPrice> why_not(const SearchBase& base, const std::vector<CheapestWeek>& weeks) {
  const bool possible =
      std::ranges::all_of(weeks, [](const CheapestWeek& week) { return week.plan.possible; });
  const Variant asked = as_asked(base);
  const std::vector<GroupNeeds> needs = needs_for(base, asked);
  const auto menu = menu_for(base, asked, needs);
  if (!possible || !menu) return {};
  const std::vector<Easing> easings = Easings(base).all;
  forecast::SharedProgress progress(base.progress, easings.size() + 1);
  const auto report = [&](std::size_t i) {
    return [&progress, i](double done) { return progress.report(i, done); };
  };
  const YearFound now = year_of(base, asked, needs, *menu, report(easings.size()));
  if (!now.possible) return {};
  std::vector<YearFound> found(easings.size());
  week::over_threads(base.options.threads, easings.size(), [&](std::size_t i) {
    if (!progress.stopped()) found[i] = eased_year(base, easings[i], *menu, report(i));
  });
  std::vector<DemandPrice> prices;
  for (std::size_t i = 0; i < easings.size(); ++i) {
    if (!found[i].possible) continue;
    const double uncertain = now.cost - now.bound + found[i].cost - found[i].bound;
    const DemandPrice price{easings[i].demand, easings[i].eased, now.cost - found[i].cost, uncertain};
    if (price.saving_per_year > uncertain + 1e-6 * std::abs(now.cost)) prices.push_back(price);
  }
  std::ranges::stable_sort(prices, std::ranges::greater{}, &DemandPrice::saving_per_year);
  return prices;
}

std::vector<FrontierPoint> comfort_curve(const SearchBase& base, const std::vector<double>& shares) {
  Curve points = curve_of(base, shares, [](Variant& v, double share) { v.asked.comfort_frac_scale = share; });
  lay_straight(points, true);
  for (FrontierPoint& point : points) point.chosen = std::abs(point.asked - 1) < 1e-9;
  return points;
}

std::vector<FrontierPoint> band_curve(const SearchBase& base, const std::vector<double>& hours) {
  Curve points = curve_of(base, hours, [](Variant& v, double h) {
    v.asked.guideline_temperature = false;
    v.asked.band_h = h;
  });
  lay_straight(points, false);
  const std::optional<double> asked_h = asked_of(base.job).band_h;
  for (FrontierPoint& point : points) point.chosen = asked_h && std::abs(point.asked - *asked_h) < 1e-9;
  return points;
}

}  // namespace firstdraw::settings
