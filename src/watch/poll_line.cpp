#include "watch/poll_line.hpp"

#include <algorithm>
#include <utility>

#include "watch/register_overlap.hpp"

namespace firstdraw::watch {

using Event = PollEvent::Kind;

namespace {
constexpr std::int64_t first_wait_ms = 1000, longest_wait_ms = 60'000;
}

void BackOff::fail(std::int64_t now_ms) {
  wait_ms_ = wait_ms_ == 0 ? first_wait_ms : std::min(2 * wait_ms_, longest_wait_ms);
  until_ms_ = now_ms + wait_ms_;
}

bool BackOff::waits(std::int64_t now_ms) const {
  return now_ms < until_ms_ && until_ms_ - now_ms <= wait_ms_;
}

void PollBoard::reading(Polled polled) {
  const std::lock_guard lock(mutex_);
  held_.readings.push_back(std::move(polled));
  ++held_.counts.readings;
}

void PollBoard::event(PollEvent event) {
  const std::lock_guard lock(mutex_);
  held_.events.push_back(std::move(event));
}

void PollBoard::count(std::int64_t PollCounts::* which) {
  const std::lock_guard lock(mutex_);
  ++(held_.counts.*which);
}

void PollBoard::wake() {
  {
    const std::lock_guard lock(mutex_);
    woken_ = true;
  }
  changed_.notify_one();
}

PollBoard::Taken PollBoard::take() {
  const std::lock_guard lock(mutex_);
  return std::exchange(held_, {});
}

void PollBoard::wait_for(int milliseconds) {
  std::unique_lock lock(mutex_);
  changed_.wait_for(lock, std::chrono::milliseconds(milliseconds), [this] { return woken_; });
  woken_ = false;
}

PollLine::PollLine(std::vector<const Device*> devices, std::function<std::int64_t()> now_ms, PollBoard& board)
    : name_(line_of(*devices.front())),
      now_ms_(std::move(now_ms)),
      board_(board),
      connection_(*devices.front()) {
  for (const Device* device : devices) states_.push_back({device, requests_of(*device)});
  thread_ = std::thread([this] { work(); });
}

PollLine::~PollLine() {
  stop();
  thread_.join();
}

bool PollLine::begin_round() {
  {
    const std::lock_guard lock(mutex_);
    if (round_wanted_) return false;
    round_wanted_ = true;
  }
  wanted_.notify_one();
  return true;
}

bool PollLine::busy() const {
  const std::lock_guard lock(mutex_);
  return round_wanted_;
}

void PollLine::stop() {
  {
    const std::lock_guard lock(mutex_);
    stop_ = true;
  }
  wanted_.notify_one();
  connection_.stop();
}

void PollLine::work() {
  for (;;) {
    {
      std::unique_lock lock(mutex_);
      wanted_.wait(lock, [this] { return round_wanted_ || stop_; });
      if (stop_) return;
    }
    round();
    {
      const std::lock_guard lock(mutex_);
      round_wanted_ = false;
    }
    board_.wake();
  }
}

void PollLine::round() {
  // Those that answered go first: whoever is down then delays nobody who is not.
  std::vector<State*> order;
  for (State& state : states_) order.push_back(&state);
  std::ranges::stable_partition(order, [](const State* s) { return s->answers != State::Answers::no; });
  for (State* state : order) {
    if (connection_.stopped()) return;
    read_device(*state);
  }
}

void PollLine::read_device(State& state) {
  if (state.back_off.waits(now_ms_())) return;
  for (std::size_t i = 0; i < state.requests.size(); ++i) {
    if (connection_.stopped() || !read_request(state, i)) return;
  }
}

bool PollLine::read_request(State& state, std::size_t index) {
  const PollRequest request = state.requests[index];
  const auto answer = ask(state, request);
  if (connection_.stopped() && !answer) return false;
  if (answer) {
    answered(state);
    take(state, request, *answer);
    return true;
  }
  if (answer.error().kind != PollFailure::Kind::refused) {
    failed(state, answer.error());
    return false;
  }
  answered(state);
  if (request.values.size() == 1) {
    refused(state, request, answer.error());
  } else {  // perhaps it is a hole in between that it refuses
    const auto single = split(*state.device, request);
    const auto at = state.requests.begin() + static_cast<std::ptrdiff_t>(index);
    state.requests.insert(state.requests.erase(at), single.begin(), single.end());
    return read_request(state, index);
  }
  return true;
}

std::expected<void, PollFailure> PollLine::open() {
  if (connection_.is_open()) return {};
  if (line_back_off_.waits(now_ms_()))
    return std::unexpected(PollFailure{PollFailure::Kind::lost, "no connection"});
  auto opened = connection_.open();
  if (!opened) {
    line_back_off_.fail(now_ms_());
    return opened;
  }
  line_back_off_.forget();
  if (std::exchange(opened_before_, true)) board_.count(&PollCounts::reconnects);
  return {};
}

std::expected<std::vector<std::uint16_t>, PollFailure> PollLine::ask(const State& state,
                                                                     const PollRequest& request) {
  for (int tries = 0;; ++tries) {
    if (auto opened = open(); !opened) return std::unexpected(opened.error());
    auto answer = connection_.read(*state.device, request);
    const bool hopeless = !answer && answer.error().kind == PollFailure::Kind::refused;
    if (answer || hopeless || tries == 1 || connection_.stopped()) return answer;
  }
}

void PollLine::take(State& state, const PollRequest& request, const std::vector<std::uint16_t>& answer) {
  const std::int64_t at_ms = now_ms_();
  for (const RegisterValue* value : request.values)
    take_value(state, *value, registers_in(answer, *state.device, request, *value), at_ms);
}

void PollLine::take_value(State& state, const RegisterValue& value,
                          const std::vector<std::uint16_t>& registers, std::int64_t at_ms) {
  state.refused.erase(value.series);
  const auto decoded = decode(value, registers);
  if (decoded) {
    state.invalid.erase(value.series);
    board_.reading({value.series, {at_ms, *decoded}});
  } else if (state.invalid.try_emplace(value.series).second) {
    say(Event::invalid, state, value.series, "no number, or outside what is valid: not stored");
  }
}

void PollLine::refused(State& state, const PollRequest& request, const PollFailure& failure) {
  board_.count(&PollCounts::failures);
  for (const RegisterValue* value : request.values) {
    auto& said = state.refused[value->series];
    if (said != failure.said) say(Event::exception, state, value->series, failure.said);
    said = failure.said;
  }
}

void PollLine::answered(State& state) {
  state.back_off.forget();
  if (std::exchange(state.answers, State::Answers::yes) != State::Answers::yes)
    say(Event::connected, state, "", "answers");
}

void PollLine::failed(State& state, const PollFailure& failure) {
  board_.count(&PollCounts::failures);
  state.back_off.fail(now_ms_());
  if (std::exchange(state.answers, State::Answers::no) == State::Answers::no) return;
  const Event kind = failure.kind == PollFailure::Kind::lost   ? Event::lost
                     : failure.kind == PollFailure::Kind::busy ? Event::exception
                                                               : Event::no_answer;
  say(kind, state, "", failure.said);
}

void PollLine::say(Event kind, const State& state, std::string series, std::string said) {
  board_.event({kind, state.device->name, std::move(series), std::move(said), now_ms_()});
}

}  // namespace firstdraw::watch
