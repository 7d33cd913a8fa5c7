// What every request must pass before anything is done for it, and what every answer carries.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "serve/answer.hpp"
#include "serve/route.hpp"

namespace firstdraw::serve {

/// One door: the machine's own, or the network's.
struct Door {
  bool network = false;  // TLS, paired devices
  int port = 0;
  std::set<std::string, std::less<>> names;  // by which it is reached, lower case, IPv6 in brackets

  std::string origin(std::string_view name) const;  // "http://127.0.0.1:8450"
};

/// What of a request's head counts here.
struct Head {
  std::string host{}, origin{}, fetch_site{}, content_type{}, content_encoding{}, length{};
  bool chunked = false;
};

/// The name a Host header asks for without its port, when this door answers to it: else somebody makes a
/// browser believe that we are another site (DNS rebinding).
std::optional<std::string> asked_name(const Door& door, std::string_view host);
/// Refused unless the page that sends a write is our own.
Maybe<void> check_origin(const Door& door, const Head& head, std::string_view name);
/// Type, coding and length of a body.
Maybe<std::size_t> check_body(const Head& head, Body body);

inline constexpr std::size_t largest_json = 4UL << 20U, largest_file = 20UL << 20U;

/// Headers of every answer; the type decides what a page may do.
Headers usual_headers(std::string_view type);

/// The value of a cookie; empty: it is not there.
std::string cookie(std::string_view header, std::string_view name);
/// Set-Cookie of a token: for this site alone, out of reach of scripts.
std::string cookie_header(const Door& door, std::string_view name, std::string_view token, long seconds);

inline constexpr std::string_view device_cookie = "firstdraw-device", share_cookie = "firstdraw-share";

}  // namespace firstdraw::serve
