#include "solvers/drive.hpp"

#include <algorithm>
#include <cmath>

#include "draw/control.hpp"

namespace firstdraw::solvers {
namespace {

/// At one time readings come before flows change, and draws close before others open.
enum class Event { after_10_s, close, opening, open, tick };
struct Moment {
  double time_s = 0;
  Event event = Event::tick;
  std::size_t draw = 0;
};

std::vector<Moment> moments_of(std::span<const draw::Draw> draws, const Span& span) {
  std::vector<Moment> moments;
  for (std::size_t i = 0; i < draws.size(); ++i) {
    const double open_s = draws[i].open_s, close_s = open_s + draws[i].duration_s;
    if (open_s < span.begin_s || open_s > span.end_s) continue;
    moments.push_back({open_s, Event::opening, i});
    moments.push_back({open_s, Event::open, i});
    if (draws[i].duration_s >= 10) moments.push_back({open_s + 10, Event::after_10_s, i});
    moments.push_back({close_s, Event::close, i});
  }
  for (double time_s = span.begin_s; time_s < span.end_s; time_s += span.tick_s)
    moments.push_back({time_s, Event::tick, 0});
  std::erase_if(moments, [&](const Moment& moment) { return moment.time_s > span.end_s; });
  std::ranges::stable_sort(moments, [](const Moment& a, const Moment& b) {
    return a.time_s != b.time_s ? a.time_s < b.time_s : a.event < b.event;
  });
  return moments;
}

/// A sensor on the wall that follows with a lag, read at ticks only.
class Group {
 public:
  explicit Group(const draw::SceneGroup& group) : group_(&group), controller_(group.control) {}
  double decide(const Method& method, double time_s, double tick_s, double on_w_per_m) {
    double target_c = std::numeric_limits<double>::quiet_NaN();
    if (group_->sensor_present && group_->sensor_run != draw::none)
      target_c = method.wall_c(group_->sensor_run, group_->sensor_at_frac) + group_->sensor_offset_k +
                 group_->sensor_k_per_w_per_m * on_w_per_m;
    const double follows = group_->sensor_lag_s > 0 ? std::exp(-tick_s / group_->sensor_lag_s) : 0;
    reading_c_ = std::isnan(reading_c_) ? target_c : target_c + (reading_c_ - target_c) * follows;
    return controller_.decide(time_s, time_s + tick_s, reading_c_);
  }

 private:
  const draw::SceneGroup* group_;
  draw::Controller controller_;
  double reading_c_ = std::numeric_limits<double>::quiet_NaN();
};

class Drive {
 public:
  Drive(const draw::Scene& scene, std::span<const draw::Draw> draws, const Span& span, Method& method)
      : scene_(&scene),
        draws_(draws),
        span_(&span),
        method_(&method),
        open_(draws.size(), false),
        flow_m3_per_s_(scene.runs.size()),
        share_(scene.groups.size()),
        taps_(draws.size()) {
    for (const draw::SceneGroup& group : scene.groups) groups_.emplace_back(group);
  }
  std::vector<TapTemps> run() {
    double now_s = span_->begin_s;
    for (const Moment& moment : moments_of(draws_, *span_)) {
      if (moment.time_s > now_s) {
        if (stale_) method_->set(flow_m3_per_s_, share_);
        stale_ = false;
        method_->advance(now_s, moment.time_s);
        now_s = moment.time_s;
      }
      happen(moment);
    }
    return std::move(taps_);
  }

 private:
  void happen(const Moment& moment) {
    TapTemps* tap = taps_.data() + moment.draw;
    switch (moment.event) {
      case Event::opening:
        tap->opening_c = outlet_c(moment.draw);
        break;
      case Event::after_10_s:
        tap->after_10_s_c = outlet_c(moment.draw);
        break;
      case Event::close:
        tap->end_c = outlet_c(moment.draw), flow(moment.draw, false);
        break;
      case Event::open:
        flow(moment.draw, true);
        break;
      case Event::tick:
        tick(moment.time_s);
        break;
    }
  }
  double outlet_c(std::size_t draw) const { return method_->outlet_c(tap_run(draw)); }
  int tap_run(std::size_t draw) const { return scene_->taps[draw::at(draws_[draw].tap)].run; }

  /// Summed anew from the open draws, so that a closed network stands still exactly.
  void flow(std::size_t draw, bool open) {
    open_[draw] = open;
    if (open)
      running_.push_back(draw);
    else
      std::erase(running_, draw);
    std::ranges::fill(flow_m3_per_s_, 0.0);
    for (const std::size_t each : running_)
      for (int run = tap_run(each); run != draw::none; run = scene_->runs[draw::at(run)].upstream)
        flow_m3_per_s_[draw::at(run)] += draws_[each].flow_m3_per_s;
    stale_ = true;
  }
  void tick(double time_s) {
    for (std::size_t i = 0; i < groups_.size(); ++i) {
      const double share = groups_[i].decide(*method_, time_s, span_->tick_s, on_w_per_m(i));
      stale_ = stale_ || share != share_[i];
      share_[i] = share;
    }
  }
  double on_w_per_m(std::size_t group) const {
    const int index = scene_->groups[group].sensor_run;
    if (index == draw::none || share_[group] == 0) return 0;
    const draw::SceneRun& run = scene_->runs[draw::at(index)];
    if (run.cable == draw::none) return 0;
    const double wall_c = method_->wall_c(index, scene_->groups[group].sensor_at_frac);
    return share_[group] * run.cable_share * scene_->cables[draw::at(run.cable)].at(wall_c);
  }

  const draw::Scene* scene_;
  std::span<const draw::Draw> draws_;
  const Span* span_;
  Method* method_;
  std::vector<Group> groups_;
  std::vector<bool> open_;
  std::vector<std::size_t> running_;
  std::vector<double> flow_m3_per_s_, share_;
  std::vector<TapTemps> taps_;
  bool stale_ = true;
};

/// Absolute differences of one kind of reading.
using Differences = std::vector<double>;

void add(Differences& differences, double one_c, double other_c) {
  if (!std::isnan(one_c) && !std::isnan(other_c)) differences.push_back(std::abs(one_c - other_c));
}

double rms_k(const Differences& differences) {
  double squares = 0;
  for (const double each : differences) squares += each * each;
  return differences.empty() ? 0 : std::sqrt(squares / static_cast<double>(differences.size()));
}

}  // namespace

std::vector<TapTemps> drive(const draw::Scene& scene, std::span<const draw::Draw> draws, const Span& span,
                            Method& method) {
  return Drive(scene, draws, span, method).run();
}

Rms rms(std::span<const TapTemps> one, std::span<const TapTemps> other) {
  Differences opening, after_10_s, end;
  for (std::size_t i = 0; i < std::min(one.size(), other.size()); ++i) {
    add(opening, one[i].opening_c, other[i].opening_c);
    add(after_10_s, one[i].after_10_s_c, other[i].after_10_s_c);
    add(end, one[i].end_c, other[i].end_c);
  }
  Rms result{rms_k(opening), rms_k(after_10_s), rms_k(end), 0, 0, static_cast<int>(opening.size())};
  Differences all = opening;
  all.insert(all.end(), after_10_s.begin(), after_10_s.end());
  all.insert(all.end(), end.begin(), end.end());
  std::ranges::sort(all);
  if (!all.empty()) result.largest_k = all.back(), result.p90_k = all[all.size() * 9 / 10];
  return result;
}

}  // namespace firstdraw::solvers
