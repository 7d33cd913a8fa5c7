// Between cpp-httplib and the routes: one request in, one answer out.
#pragma once

#include <httplib.h>

#include "serve/guard.hpp"
#include "serve/house.hpp"
#include "serve/limits.hpp"
#include "serve/page_files.hpp"

namespace firstdraw::serve {

class Wire {
 public:
  Wire(House& house, const PageFiles& page) : house_(house), page_(page) {}

  /// `reader`: of the body; null for GET.
  void answer(const Door& door, Method method, const httplib::Request& request, httplib::Response& response,
              const httplib::ContentReader* reader);

 private:
  struct Asked;
  Answer answer_of(Asked& asked);
  Answer route(Asked& asked, const Matched& matched);
  Answer page(const Asked& asked) const;
  Answer page_for(const Asked& asked, const Refusal& refusal) const;
  Maybe<void> pace(const Asked& asked, const Matched& matched);
  Caller caller_of(const Asked& asked);
  void stream(Asked& asked);
  void send(Asked& asked, Reply reply);

  House& house_;
  const PageFiles& page_;
  Limits limits_;
  Holds streams_;
};

}  // namespace firstdraw::serve
