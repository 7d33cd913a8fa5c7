#include "serve/event_stream.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

namespace firstdraw::serve {
namespace {

constexpr std::chrono::milliseconds sign_of_life{10'000};

}  // namespace

EventStream::EventStream(House& house, Caller caller, const std::string& last_event_id)
    : house_(house), caller_(std::move(caller)), heard_(house.events.latest()) {
  if (last_event_id.empty()) return;
  const auto from = house.events.resume(last_event_id);
  missed_some_ = !from;
  heard_ = from.value_or(heard_);
}

bool EventStream::still_welcome() const {
  const auto is_it = [this](const auto& each) { return each.id == caller_.id; };
  if (caller_.kind == Caller::Kind::device) return std::ranges::any_of(house_.access.devices(), is_it);
  if (caller_.kind == Caller::Kind::guest)
    return std::ranges::any_of(house_.access.shares_of(caller_.job), is_it);
  return true;
}

bool EventStream::is_for_caller(const Event& event) const {
  return event.job.empty() ? caller_.may_change() : caller_.may_see(event.job);
}

/// What was missed is not known any more, of a listener who was away or too slow: whoever listens is to read
/// everything again.
std::string EventStream::everything_anew() const {
  std::string text = "event: jobs\ndata: {}\n\n";
  for (const std::string& id : house_.jobs.ids()) {
    if (!caller_.may_see(id)) continue;
    auto job = house_.jobs.find(id);
    if (!job) continue;
    const nlohmann::json data{
        {"job", id}, {"revision", (*job)->desk().now()->revision}, {"by", ""}, {"label", ""}};
    text += fmt::format("event: job\ndata: {}\n\n", text_of(data));
  }
  return text;
}

bool EventStream::write(httplib::DataSink& sink) {
  std::string text;
  if (!greeted_) {
    greeted_ = true;
    // An id without data is no message, but the browser remembers it: what comes while it is away is then not
    // missed, even when nothing came before.
    text = fmt::format("retry: 2000\nid: {}\n: firstdraw {}\n\n", house_.events.id_of(heard_),
                       house_.options.version);
    if (missed_some_) text += everything_anew();
    return sink.write(text.data(), text.size());
  }
  const std::vector<Event> events = house_.events.after(heard_, sign_of_life);
  if (house_.events.closed() || !still_welcome()) {
    sink.done();
    return true;
  }
  if (!events.empty() && events.front().number > heard_ + 1) text = everything_anew();
  for (const Event& event : events) {
    heard_ = event.number;
    if (is_for_caller(event)) text += house_.events.text_of(event);
  }
  if (text.empty()) text = ": still here\n\n";
  return sink.write(text.data(), text.size());
}

}  // namespace firstdraw::serve
