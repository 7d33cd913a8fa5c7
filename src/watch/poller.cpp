#include "watch/poller.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <utility>

#include "watch/poll_line.hpp"
#include "watch/register_overlap.hpp"

namespace firstdraw::watch {
namespace {

using Event = PollEvent::Kind;

class Poller {
 public:
  Poller(const RegisterMap& map, const PollOptions& options);
  PollCounts run();

 private:
  std::int64_t next_on_grid(std::int64_t after_ms) const;
  bool wait_until(std::int64_t at_ms) const;
  /// When the round after the one begun then is due; a moment that is gone by is skipped.
  std::int64_t after(std::int64_t begun_ms);
  void begin_round();
  /// False: stop. Until every line is done or, when a round may follow, it is time for it.
  bool collect(std::int64_t until_ms, bool last);
  bool any_busy() const;
  void gather();
  void offer();
  void drop(std::size_t count);
  void say(Event kind, std::string said);

  const PollOptions& options_;
  std::int64_t every_ms_;
  PollBoard board_;
  std::vector<std::unique_ptr<PollLine>> lines_;
  std::vector<Polled> held_;
  bool sink_fails_ = false;
  PollCounts counts_;
};

Poller::Poller(const RegisterMap& map, const PollOptions& options)
    : options_(options), every_ms_(std::max<std::int64_t>(1, std::llround(map.every_s * 1000))) {
  std::vector<std::vector<const Device*>> groups;
  std::map<std::string, std::size_t> group_of;
  for (const Device& device : map.devices) {
    const auto [at, added] = group_of.try_emplace(line_of(device), groups.size());
    if (added) groups.emplace_back();
    groups[at->second].push_back(&device);
  }
  for (auto& group : groups)
    lines_.push_back(std::make_unique<PollLine>(std::move(group), options.now_ms, board_));
}

std::int64_t Poller::next_on_grid(std::int64_t after_ms) const {
  const std::int64_t step = after_ms / every_ms_ - (after_ms % every_ms_ < 0 ? 1 : 0);
  return (step + 1) * every_ms_;
}

bool Poller::wait_until(std::int64_t at_ms) const {
  for (;;) {
    const std::int64_t left = at_ms - options_.now_ms();
    // The clock may be set back meanwhile: no wait is longer than one step of the grid.
    if (left <= 0 || left > every_ms_) return options_.wait(0);
    if (!options_.wait(static_cast<double>(left) / 1000)) return false;
  }
}

std::int64_t Poller::after(std::int64_t begun_ms) {
  const std::int64_t now = options_.now_ms(), due = next_on_grid(begun_ms);
  if (now < begun_ms) return next_on_grid(now);  // the clock was set back
  const std::int64_t late_ms = std::max<std::int64_t>(50, every_ms_ / 10);
  if (now <= due + late_ms) return due;
  const std::int64_t next = next_on_grid(now - 1);
  counts_.skipped += (next - due) / every_ms_;
  return next;
}

void Poller::begin_round() {
  ++counts_.rounds;
  for (const auto& line : lines_) {
    if (!line->begin_round())
      say(Event::late, fmt::format("{} is still busy with the round before", line->name()));
  }
}

bool Poller::any_busy() const {
  return std::ranges::any_of(lines_, [](const auto& line) { return line->busy(); });
}

bool Poller::collect(std::int64_t until_ms, bool last) {
  constexpr int look_ms = 20;
  while (any_busy() && (last || options_.now_ms() < until_ms)) {
    board_.wait_for(look_ms);
    gather();
    if (!options_.wait(0)) return false;
  }
  return true;
}

void Poller::gather() {
  PollBoard::Taken taken = board_.take();
  std::ranges::move(taken.readings, std::back_inserter(held_));
  counts_.readings += taken.counts.readings;
  counts_.failures += taken.counts.failures;
  counts_.reconnects += taken.counts.reconnects;
  if (!options_.event) return;
  for (const PollEvent& event : taken.events) options_.event(event);
}

void Poller::offer() {
  gather();
  if (held_.empty()) return;
  const auto taken = options_.sink(held_);
  if (taken) {
    if (std::exchange(sink_fails_, false))
      say(Event::sink_back, fmt::format("{} readings that were kept are stored", held_.size()));
    return held_.clear();
  }
  if (!std::exchange(sink_fails_, true)) say(Event::sink_failed, taken.error());
  if (held_.size() > options_.keep) drop(held_.size() - options_.keep);
}

void Poller::drop(std::size_t count) {
  held_.erase(held_.begin(), held_.begin() + static_cast<std::ptrdiff_t>(count));
  counts_.dropped += static_cast<std::int64_t>(count);
  say(Event::dropped, fmt::format("{} readings are lost: nothing would store them", count));
}

void Poller::say(Event kind, std::string said) {
  if (options_.event) options_.event({kind, "", "", std::move(said), options_.now_ms()});
}

PollCounts Poller::run() {
  const bool forever = options_.rounds < 0;
  bool go = forever || options_.rounds > 0;
  std::int64_t next = options_.first_at_once ? options_.now_ms() : next_on_grid(options_.now_ms() - 1);
  while (go && wait_until(next)) {
    const std::int64_t begun = std::max(next, options_.now_ms());
    begin_round();
    const bool last = !forever && counts_.rounds >= options_.rounds;
    go = collect(next_on_grid(begun), last) && !last;
    if (!go) break;
    offer();
    next = after(begun);
  }
  for (const auto& line : lines_) line->stop();
  lines_.clear();
  offer();
  if (!held_.empty()) drop(held_.size());
  return counts_;
}

}  // namespace

std::string_view name_of(Event kind) {
  constexpr std::string_view names[]{"connected", "lost",        "exception", "no answer", "invalid",
                                     "late",      "sink failed", "sink back", "dropped"};
  return names[static_cast<std::size_t>(kind)];
}

PollCounts poll(const RegisterMap& map, const PollOptions& options) { return Poller(map, options).run(); }

}  // namespace firstdraw::watch
