// One listener of the events, as text/event-stream: from where it left off, with a sign of life now and then.
#pragma once

#include <httplib.h>

#include "serve/house.hpp"
#include "serve/route.hpp"

namespace firstdraw::serve {

class EventStream {
 public:
  EventStream(House& house, Caller caller, const std::string& last_event_id);
  /// Writes what came, or a sign of life; false: the listener is gone or may listen no more.
  bool write(httplib::DataSink& sink);

 private:
  bool still_welcome() const;
  bool is_for_caller(const Event& event) const;
  std::string everything_anew() const;

  House& house_;
  const Caller caller_;
  std::uint64_t heard_ = 0;
  bool greeted_ = false, missed_some_ = false;
};

}  // namespace firstdraw::serve
