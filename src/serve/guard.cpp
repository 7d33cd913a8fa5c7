#include "serve/guard.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "serve/numbers.hpp"

namespace firstdraw::serve {
namespace {

constexpr std::string_view policy =
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; "
    "connect-src 'self'; manifest-src 'self'; worker-src 'self'; frame-src 'self' blob:; media-src 'self' "
    "blob:; "
    "object-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'";
/// Files are shown, never run.
constexpr std::string_view policy_of_files =
    "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; object-src 'self'; "
    "frame-ancestors 'self'";

std::string lower(std::string_view text) {
  std::string out(text);
  std::ranges::transform(out, out.begin(),
                         [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  return out;
}

std::string_view without_parameters(std::string_view type) {
  type = type.substr(0, type.find(';'));
  while (type.ends_with(' ')) type.remove_suffix(1);
  return type;
}

}  // namespace

std::string Door::origin(std::string_view name) const {
  return fmt::format("{}://{}:{}", network ? "https" : "http", name, port);
}

std::optional<std::string> asked_name(const Door& door, std::string_view host) {
  const std::string text = lower(host);
  const std::size_t close = text.rfind(']'), colon = text.rfind(':');
  const bool has_port = colon != std::string::npos && (close == std::string::npos || colon > close);
  std::string name = has_port ? text.substr(0, colon) : text;
  if (!door.names.contains(name)) return std::nullopt;
  if (has_port && whole_number(text.substr(colon + 1), 0, 65535) != door.port) return std::nullopt;
  return name;
}

Maybe<void> check_origin(const Door& door, const Head& head, std::string_view name) {
  // Browsers send Origin with every write; programs that are none need not.
  const bool from_elsewhere = !head.origin.empty() && lower(head.origin) != door.origin(name);
  const bool cross_site = head.fetch_site == "cross-site" || head.fetch_site == "same-site";
  if (from_elsewhere || cross_site)
    return refuse(Why::not_allowed, "only this server's own page may write here",
                  "open the page at its address");
  return {};
}

Maybe<std::size_t> check_body(const Head& head, Body body) {
  if (body == Body::none) return 0;
  if (lower(head.content_type).starts_with("multipart/"))
    return refuse(Why::bad_input, "the bytes themselves were expected, not a form");
  if (!head.content_encoding.empty() && head.content_encoding != "identity")
    return refuse(Why::bad_input, "a body without Content-Encoding was expected");
  const std::size_t most = body == Body::json ? largest_json : largest_file;
  const auto length = whole_number(head.length, 0, INT64_MAX);
  if (head.chunked || !length) return refuse(Why::bad_input, "a body with Content-Length was expected");
  if (static_cast<std::uint64_t>(*length) > most)
    return refuse(Why::too_large, fmt::format("at most {} MB are taken here", most >> 20U));
  if (body == Body::json && without_parameters(head.content_type) != "application/json")
    return refuse(Why::bad_input, "Content-Type application/json was expected");
  return static_cast<std::size_t>(*length);
}

Headers usual_headers(std::string_view type) {
  // A worker is bound by the policy of its own script: the one that works without connection must fetch.
  const bool page = type.starts_with("text/html") || type.starts_with("text/javascript");
  Headers headers{{"Accept-Ranges", "none"},
                  {"Content-Security-Policy", std::string(page ? policy : policy_of_files)},
                  {"X-Content-Type-Options", "nosniff"},
                  {"X-Frame-Options", "SAMEORIGIN"},
                  {"Referrer-Policy", "no-referrer"},
                  {"Cross-Origin-Opener-Policy", "same-origin"},
                  {"Cross-Origin-Resource-Policy", "same-origin"},
                  {"Permissions-Policy", "camera=(self), geolocation=(), microphone=(), payment=(), usb=()"}};
  // No Strict-Transport-Security: with a certificate of our own a browser could then never be let through its
  // warning.
  return headers;
}

std::string cookie(std::string_view header, std::string_view name) {
  while (!header.empty()) {
    const std::size_t end = header.find(';');
    std::string_view one = header.substr(0, end);
    while (one.starts_with(' ')) one.remove_prefix(1);
    if (one.size() > name.size() && one.starts_with(name) && one[name.size()] == '=')
      return std::string(one.substr(name.size() + 1));
    if (end == std::string_view::npos) break;
    header.remove_prefix(end + 1);
  }
  return {};
}

std::string cookie_header(const Door& door, std::string_view name, std::string_view token, long seconds) {
  return fmt::format("{}={}; Path=/; HttpOnly; SameSite=Strict; Max-Age={}{}", name, token, seconds,
                     door.network ? "; Secure" : "");
}

}  // namespace firstdraw::serve
