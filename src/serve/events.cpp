#include "serve/events.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <nlohmann/json.hpp>

namespace firstdraw::serve {

Events::Events(std::string run, std::size_t kept) : run_(std::move(run)), kept_(kept) {}

void Events::publish(std::string_view name, std::string_view job, const nlohmann::json& data) {
  std::string text = data.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
  {
    const std::lock_guard lock(mutex_);
    if (closed_) return;
    bytes_ += text.size();
    ring_.push_back({++latest_, std::string(name), std::string(job), std::move(text)});
    while (ring_.size() > 1 && (ring_.size() > kept_ || bytes_ > bytes_kept)) {
      bytes_ -= ring_.front().data.size();
      ring_.pop_front();
    }
  }
  more_.notify_all();
}

std::vector<Event> Events::after(std::uint64_t number, std::chrono::milliseconds wait) const {
  std::unique_lock lock(mutex_);
  more_.wait_for(lock, wait, [&] { return closed_ || latest_ > number; });
  std::vector<Event> some;
  std::size_t bytes = 0;
  for (auto each = std::ranges::upper_bound(ring_, number, {}, &Event::number);
       each != ring_.end() && bytes < bytes_at_once; ++each) {
    bytes += each->data.size();
    some.push_back(*each);
  }
  return some;
}

std::uint64_t Events::latest() const {
  const std::lock_guard lock(mutex_);
  return latest_;
}

std::optional<std::uint64_t> Events::resume(std::string_view last_event_id) const {
  const std::size_t dash = last_event_id.rfind('-');
  if (dash == std::string_view::npos || last_event_id.substr(0, dash) != run_) return std::nullopt;
  const std::string_view digits = last_event_id.substr(dash + 1);
  std::uint64_t number = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
  if (error != std::errc() || end != digits.data() + digits.size()) return std::nullopt;
  const std::lock_guard lock(mutex_);
  const std::uint64_t oldest = ring_.empty() ? latest_ + 1 : ring_.front().number;
  if (number > latest_ || number + 1 < oldest) return std::nullopt;
  return number;
}

std::string Events::id_of(std::uint64_t number) const { return fmt::format("{}-{}", run_, number); }

std::string Events::text_of(const Event& event) const {
  return fmt::format("id: {}\nevent: {}\ndata: {}\n\n", id_of(event.number), event.name, event.data);
}

void Events::close() {
  {
    const std::lock_guard lock(mutex_);
    closed_ = true;
  }
  more_.notify_all();
}

bool Events::closed() const {
  const std::lock_guard lock(mutex_);
  return closed_;
}

}  // namespace firstdraw::serve
