#include "settings/prices.hpp"

#include <algorithm>
#include <cstdint>
#include <map>
#include <stdexcept>

#include "settings/local_year.hpp"

namespace firstdraw::settings {
namespace {

constexpr std::int64_t week_s = 604800;
constexpr double watts_a_kw = 1000;

/// Price of the next kW above what the meter carries anyway.
double price_per_kw(const week::Period& period, double other_kw) {
  for (const week::Tier& tier : period.tiers)
    if (other_kw < tier.up_to) return tier.price;
  throw std::logic_error("prices: the last tier of a demand period has an end");
}

/// Which demand, as a key: month from 0, then -1 for the flat one or the time-of-use period.
using DemandKey = std::pair<std::size_t, int>;

class SeasonBuilder {
 public:
  SeasonBuilder(const Inputs& inputs, double other_kw, double step_s, double used_kwh)
      : in_(inputs), other_kw_(other_kw), step_s_(step_s), used_kwh_(used_kwh) {
    const auto steps = static_cast<std::size_t>(week_s / whole_step_s(step_s));
    for (const week::Season& season : season_order(inputs.calendar)) {
      SeasonOfYear& made = seasons_.emplace_back();
      made.name = season.name.empty() ? "all year" : season.name;
      made.from_month = static_cast<int>(static_cast<unsigned>(season.from.month()));
      made.from_day = static_cast<int>(static_cast<unsigned>(season.from.day()));
      made.prices.per_kwh.assign(steps, 0);
    }
    windows_.resize(seasons_.size());
    days_.assign(seasons_.size(), std::vector<int>(week::months_a_year, 0));
  }

  std::vector<SeasonOfYear> build() {
    walk_year(in_, step_s_, [this](const LocalPiece& piece) { take(piece); });
    for (std::size_t season = 0; season < seasons_.size(); ++season) {
      for (const int days : days_[season]) seasons_[season].days += days;
      for (const auto& [key, window] : windows_[season]) add_demand(season, key, window);
    }
    return std::move(seasons_);
  }

 private:
  void take(const LocalPiece& piece) {
    week::Prices& prices = seasons_[piece.season].prices;
    // A step that the clock cuts counts with what is left of it.
    prices.per_kwh[piece.step] +=
        static_cast<double>(piece.length_s) / step_s_ *
        week::price_per_kwh(in_.tariff, in_.calendar, piece.begin_unix_s, used_kwh_);
    const auto month = static_cast<std::size_t>(piece.local.month() - 1);
    if (piece.local.date != day_) ++days_[piece.season][month];
    day_ = piece.local.date;
    if (in_.tariff.flat_demand) mark(piece, {month, flat});
    if (in_.tariff.demand)
      mark(piece, {month, week::period_at(*in_.tariff.demand, in_.tariff, in_.calendar, piece.local)});
  }

  void mark(const LocalPiece& piece, const DemandKey& key) {
    std::vector<char>& window = windows_[piece.season][key];
    if (window.empty()) window.assign(seasons_[piece.season].prices.per_kwh.size(), 0);
    window[piece.step] = 1;
  }

  double month_price(const DemandKey& key) const {
    const auto [month, period] = key;
    const week::Tariff& tariff = in_.tariff;
    const bool daily = period == flat ? tariff.flat_demand->daily : tariff.demand->daily;
    const week::Period& charged =
        period == flat ? tariff.flat_demand->periods.at(
                             static_cast<std::size_t>(tariff.flat_demand->period_of_month.at(month)))
                       : tariff.demand->periods.at(static_cast<std::size_t>(period));
    return price_per_kw(charged, other_kw_) * (daily ? days_of(month) : 1);
  }
  int days_of(std::size_t month) const { return week::days_in_month(in_.year, static_cast<int>(month) + 1); }

  // Months of the same window ask for the same peak of the typical week: one price, their sum, so that the
  // search stays small. A ratchet is left out: it ties months together that the search sees apart.
  void add_demand(std::size_t season, const DemandKey& key, const std::vector<char>& window) {
    const double share = static_cast<double>(days_[season][key.first]) / days_of(key.first);
    const double per_kw = month_price(key) * share;
    if (per_kw == 0) return;
    std::vector<week::DemandPrice>& all = seasons_[season].prices.demand;
    const auto same = std::ranges::find(all, window, &week::DemandPrice::in_window);
    if (same == all.end())
      all.push_back({per_kw, window});
    else
      same->per_kw += per_kw;
  }

  static constexpr int flat = -1;
  const Inputs& in_;
  double other_kw_, step_s_, used_kwh_;
  std::vector<SeasonOfYear> seasons_;
  std::vector<std::map<DemandKey, std::vector<char>>> windows_;  // by season
  std::vector<std::vector<int>> days_;                           // by season and month
  week::Date day_{};
};

}  // namespace

std::vector<SeasonOfYear> seasons_of(const Inputs& inputs, const job::Job& job, double step_s,
                                     double used_kwh_per_month) {
  return SeasonBuilder(inputs, job.tariff.other_load_w / watts_a_kw, step_s, used_kwh_per_month).build();
}

}  // namespace firstdraw::settings
