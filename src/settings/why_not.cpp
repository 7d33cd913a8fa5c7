#include "settings/why_not.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <mutex>
#include <span>

#include "forecast/ensemble.hpp"
#include "settings/cheapest_search.hpp"
#include "settings/easings.hpp"
#include "settings/known_weeks.hpp"
#include "settings/needs.hpp"
#include "week/over_threads.hpp"

namespace firstdraw::settings {
namespace {

constexpr double coarse_grid_k = 0.5;  // of every search here, the job's own included
constexpr double endless = std::numeric_limits<double>::infinity();

/// How much of one search is done; false: stop.
using Report = std::function<bool(double done_frac)>;

/// Of a season or of all.
struct YearFound {
  bool possible = false;
  double cost = 0, bound = 0;
};

/// Seasons are searched at once; where there are fewer of them than threads, their groups too.
SearchOptions coarse(const SearchBase& base, const Report& report = {}) {
  SearchOptions options = base.options;
  options.grid_k = std::max(options.grid_k, coarse_grid_k);
  options.rounds = 0;
  options.threads = std::max(1, base.options.threads / static_cast<int>(base.seasons.size()));
  options.effort.rounds = std::min(options.effort.rounds, 12);
  options.effort.progress = report;
  return options;
}

std::vector<GroupNeeds> needs_for(const SearchBase& base, const Variant& variant) {
  return needs_of(variant.job, base.plan, base.scene, base.demand, variant.models, variant.asked,
                  base.options.step_s);
}

std::optional<Menu> menu_for(const SearchBase& base, const Variant& variant,
                             const std::vector<GroupNeeds>& needs) {
  const auto menu = menu_of(variant.job, variant.models, needs, coarse(base));
  return menu ? std::optional(*menu) : std::nullopt;
}

/// What is searched for each season.
struct Question {
  Variant variant;
  std::vector<GroupNeeds> needs;
  std::optional<Menu> menu;  // none: no set-point meets what is asked
};

Question question_of(const SearchBase& base, Variant variant) {
  Question question{std::move(variant), {}, {}};
  question.needs = needs_for(base, question.variant);
  question.menu = menu_for(base, question.variant, question.needs);
  return question;
}

/// The task of a season's search; none: it has no answer.
std::optional<SteadyTask> task_of_season(const SearchBase& base, const Question& question,
                                         const SeasonOfYear& season) {
  if (!question.menu) return std::nullopt;
  auto task = task_of(question.variant.job, question.variant.models, question.needs, season, coarse(base),
                      *question.menu);
  if (!task) return std::nullopt;
  return SteadyTask{std::move(*task), most_set_points(question.variant.job.controller)};
}

/// In the steady model. Not possible, too, once somebody asked to stop.
CheapestWeek search_season(const SearchBase& base, const Question& question, const SeasonOfYear& season,
                           const Report& report) {
  return search_week(question.variant.job, question.variant.models, question.needs, season,
                     coarse(base, report), *question.menu);
}

YearFound found_in(const CheapestWeek& week) {
  if (!week.plan.possible) return {};
  return {true, week.plan.cost.total(), week.bound};
}

/// Of what is known, or searched; `learn`: it is known from now on.
YearFound season_found(const SearchBase& base, const Question& question, std::size_t season,
                       const Report& report, KnownWeeks& known, bool learn) {
  auto task = task_of_season(base, question, base.seasons[season]);
  if (!task) return {};
  if (const CheapestWeek* week = known.find(*task)) {
    report(1);
    return found_in(*week);
  }
  CheapestWeek week = search_season(base, question, base.seasons[season], report);
  const YearFound found = found_in(week);
  if (!report(1)) return {};
  if (learn) known.add(std::move(*task), std::move(week));
  return found;
}

YearFound year_of(std::span<const YearFound> seasons) {
  YearFound year{true, 0, 0};
  for (const YearFound& season : seasons) {
    if (!season.possible) return {};
    year.cost += season.cost;
    year.bound += season.bound;
  }
  return year;
}

/// Searches of several questions for each season; who watches is told one number and may stop them all.
class Searches {
 public:
  Searches(const SearchBase& base, std::size_t questions)
      : base_(base),
        seasons_(base.seasons.size()),
        found_(questions * seasons_),
        known_(seasons_),
        done_frac_(questions * seasons_, 0.0),
        progress_(base.progress, questions * seasons_) {}

  /// All seasons at once; within each one the questions in the order given, so that a later one may be
  /// answered by the week of an earlier one, whatever the number of threads.
  void in_order(std::span<const Question> questions) {
    week::over_threads(base_.options.threads, seasons_, [&](std::size_t season) {
      for (std::size_t i = 0; i < questions.size(); ++i) ask(questions[i], asked_ + i, season, true);
    });
    asked_ += questions.size();
  }

  /// All at once; only what was known before helps.
  void at_once(const std::vector<Question>& questions) {
    week::over_threads(base_.options.threads, questions.size() * seasons_, [&](std::size_t i) {
      ask(questions[i / seasons_], asked_ + i / seasons_, i % seasons_, false);
    });
    asked_ += questions.size();
  }

  bool stopped() const { return progress_.stopped(); }
  /// Of questions as they were asked.
  YearFound year(std::size_t question) const {
    return year_of(std::span(found_).subspan(question * seasons_, seasons_));
  }

 private:
  void ask(const Question& question, std::size_t number, std::size_t season, bool learn) {
    if (progress_.stopped()) return;
    const std::size_t task = number * seasons_ + season;
    const Report report = [this, task](double done_frac) { return tell(task, done_frac); };
    found_[task] = season_found(base_, question, season, report, known_[season], learn);
  }

  /// From any thread. Shares of a task never fall, whatever its searches tell; after a stop nothing is told.
  bool tell(std::size_t task, double done_frac) {
    const std::lock_guard lock(door_);
    if (progress_.stopped()) return false;
    done_frac_[task] = std::max(done_frac_[task], done_frac);
    return progress_.report(task, done_frac_[task]);
  }

  const SearchBase& base_;
  std::size_t seasons_, asked_ = 0;
  std::vector<YearFound> found_;
  std::vector<KnownWeeks> known_;  // by season
  std::mutex door_;
  std::vector<double> done_frac_;  // by question and season
  forecast::SharedProgress progress_;
};

/// The eased menu holds the menu of the job as asked, so that what is eased can only cost less.
Question eased(const SearchBase& base, const Easing& easing, const Menu& menu) {
  Variant variant = as_asked(base);
  easing.change(variant);
  Question question = question_of(base, std::move(variant));
  if (question.menu) question.menu = joined(menu, *question.menu);
  return question;
}

using Curve = std::vector<FrontierPoint>;
using Change = std::function<void(Variant&, double)>;

/// Questions with one menu, that of all of them together: what one may set, all may.
std::vector<Question> comparable(const SearchBase& base, const std::vector<double>& values,
                                 const Change& change) {
  std::vector<Question> questions;
  std::optional<Menu> menu;
  for (const double value : values) {
    Variant variant = as_asked(base);
    change(variant, value);
    const Question& question = questions.emplace_back(question_of(base, std::move(variant)));
    if (question.menu) menu = menu ? joined(*menu, *question.menu) : *question.menu;
  }
  for (Question& question : questions)
    if (question.menu) question.menu = menu;
  return questions;
}

/// What keeps more keeps less too: no point costs more than one that asks more, no bound lies above that of
/// one that asks more. From the point that asks least.
void lay_straight(Curve& points) {
  std::vector<FrontierPoint*> possible;
  for (FrontierPoint& point : points)
    if (point.possible) possible.push_back(&point);
  for (std::size_t i = possible.size(); i-- > 1;)
    possible[i - 1]->cost_per_year = std::min(possible[i - 1]->cost_per_year, possible[i]->cost_per_year);
  for (std::size_t i = 1; i < possible.size(); ++i)
    possible[i]->bound_per_year = std::max(possible[i]->bound_per_year, possible[i - 1]->bound_per_year);
}

/// Values that ask more and more. The week of one that asks less is that of the next where it keeps what that
/// one asks, `beyond` before all: asks less than any, and is no point.
Curve curve_of(const SearchBase& base, std::vector<double> values, const Change& change,
               std::optional<double> beyond = {}) {
  if (beyond) values.insert(values.begin(), *beyond);
  const std::vector<Question> questions = comparable(base, values, change);
  Searches searches(base, questions.size());
  searches.in_order(questions);
  Curve points;
  for (std::size_t i = beyond ? 1 : 0; i < values.size(); ++i) {
    const YearFound year = searches.year(i);
    points.push_back({values[i], year.possible, year.cost, year.bound, false});
  }
  lay_straight(points);
  return points;
}

}  // namespace

std::vector<DemandPrice> why_not(const SearchBase& base, const std::vector<CheapestWeek>& weeks) {
  const bool possible =
      std::ranges::all_of(weeks, [](const CheapestWeek& week) { return week.plan.possible; });
  const Question asked = question_of(base, as_asked(base));
  if (!possible || !asked.menu) return {};
  const std::vector<Easing> easings = easings_of(base);
  Searches searches(base, easings.size() + 1);
  searches.in_order({&asked, 1});
  const YearFound now = searches.year(0);
  if (!now.possible) return {};
  std::vector<Question> questions;
  for (const Easing& easing : easings) questions.push_back(eased(base, easing, *asked.menu));
  searches.at_once(questions);
  std::vector<DemandPrice> prices;
  for (std::size_t i = 0; i < easings.size() && !searches.stopped(); ++i) {
    const YearFound found = searches.year(i + 1);
    if (!found.possible) continue;
    const double uncertain = now.cost - now.bound + found.cost - found.bound;
    const DemandPrice price{easings[i].demand, easings[i].eased, now.cost - found.cost, uncertain};
    if (price.saving_per_year > uncertain + 1e-6 * std::abs(now.cost)) prices.push_back(price);
  }
  std::ranges::stable_sort(prices, std::ranges::greater{}, &DemandPrice::saving_per_year);
  return prices;
}

std::vector<FrontierPoint> comfort_curve(const SearchBase& base, std::vector<double> shares) {
  std::ranges::sort(shares);
  Curve points =
      curve_of(base, std::move(shares), [](Variant& v, double share) { v.asked.comfort_frac_scale = share; });
  for (FrontierPoint& point : points) point.chosen = std::abs(point.asked - 1) < 1e-9;
  return points;
}

std::vector<FrontierPoint> band_curve(const SearchBase& base, std::vector<double> hours) {
  const auto change = [](Variant& v, double h) {
    v.asked.guideline_temperature = false;
    v.asked.band_h = h;
  };
  std::ranges::sort(hours, std::ranges::greater{});
  Curve points = curve_of(base, std::move(hours), change, endless);
  std::ranges::reverse(points);
  const std::optional<double> asked_h = asked_of(base.job).band_h;
  for (FrontierPoint& point : points) point.chosen = asked_h && std::abs(point.asked - *asked_h) < 1e-9;
  return points;
}

}  // namespace firstdraw::settings
