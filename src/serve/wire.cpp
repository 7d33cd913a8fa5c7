#include "serve/wire.hpp"

#include <fmt/format.h>

#include <exception>
#include <nlohmann/json.hpp>

#include "serve/event_stream.hpp"

namespace firstdraw::serve {
namespace {

constexpr Rate of_strangers{5, 60}, of_devices{50, 300}, of_pairing{0.02, 6};
constexpr int streams_each = 12;
constexpr std::size_t worth_squeezing = 1500;
constexpr std::chrono::seconds longest_body{60};

std::string head_value(const httplib::Request& request, const char* name) {
  return request.get_header_value(name);
}

bool accepts_gzip(const httplib::Request& request) {
  return head_value(request, "Accept-Encoding").find("gzip") != std::string::npos;
}

/// A browser that goes to an address, and no script.
bool opens_page(const httplib::Request& request) {
  return head_value(request, "Accept").find("text/html") != std::string::npos;
}

/// The body, or why it was not read to its end.
Maybe<std::string> read_body(const httplib::ContentReader& reader, std::size_t length) {
  std::string body;
  body.reserve(std::min(length, largest_json));
  const auto until = std::chrono::steady_clock::now() + longest_body;
  const bool whole = reader([&](const char* data, std::size_t size) {
    if (body.size() + size > length || std::chrono::steady_clock::now() > until) return false;
    body.append(data, size);
    return true;
  });
  if (!whole || body.size() != length) return refuse(Why::bad_input, "the body breaks off");
  return body;
}

/// What is left unread would be taken for the next request.
void drain(const httplib::ContentReader& reader) {
  std::size_t left = largest_file;
  reader([&left](const char*, std::size_t size) {
    if (size > left) return false;
    left -= size;
    return true;
  });
}

}  // namespace

struct Wire::Asked {
  const Door& door;
  Method method;
  const httplib::Request& request;
  httplib::Response& response;
  const httplib::ContentReader* reader;
  std::string name;  // as which it was asked
  Head head{};
  Caller caller{};
  bool read = false, streaming = false;
};

Caller Wire::caller_of(const Asked& asked) {
  Caller caller;
  caller.address = asked.request.remote_addr;
  if (!asked.door.network) {
    caller.kind = Caller::Kind::host;
    caller.name = "host";
    return caller;
  }
  const std::string cookies = head_value(asked.request, "Cookie");
  if (const auto device = house_.access.device_of(cookie(cookies, device_cookie))) {
    caller.kind = Caller::Kind::device;
    caller.id = device->id;
    caller.name = device->name;
  } else if (const auto share = house_.access.share_of(cookie(cookies, share_cookie))) {
    caller.kind = Caller::Kind::guest;
    caller.id = share->id;
    caller.name = share->name;
    caller.job = share->job;
  }
  return caller;
}

Maybe<void> Wire::pace(const Asked& asked, const Matched& matched) {
  const Caller& caller = asked.caller;
  if (caller.kind == Caller::Kind::host) return {};
  const bool known = caller.kind != Caller::Kind::stranger;
  const bool pairs = matched.route != nullptr && matched.route->path == "/api/pair";
  const bool fine =
      limits_.allow(known ? "d:" + caller.id : "a:" + caller.address, known ? of_devices : of_strangers) &&
      (!pairs || limits_.allow("p:" + caller.address, of_pairing));
  if (fine) return {};
  auto refusal = refuse(Why::too_many, "too many requests", "wait a little");
  refusal.error().headers.emplace_back("Retry-After", pairs ? "60" : "2");
  return refusal;
}

namespace {

Maybe<void> check_right(const Route& route, const Caller& caller,
                        const std::map<std::string, std::string>& path) {
  if (route.right == Right::anyone || caller.kind == Caller::Kind::host) return {};
  if (caller.kind == Caller::Kind::stranger)
    return refuse(Why::not_paired, "this device is not paired", "pair it with the code shown on the host");
  if (route.right == Right::host) return refuse(Why::not_allowed, "only on the host itself");
  if (route.right == Right::change && !caller.may_change())
    return refuse(Why::not_allowed, "this link only shows", "ask for a paired device");
  const auto job = path.find("job");
  if (job != path.end() && !caller.may_see(job->second))
    return refuse(Why::not_allowed, "this link shows another job");
  return {};
}

}  // namespace

Answer Wire::route(Asked& asked, const Matched& matched) {
  if (matched.route == nullptr)
    return refuse(Why::not_found, "this cannot be done here", "GET /openapi.json says what can");
  const Route& route = *matched.route;
  if (auto right = check_right(route, asked.caller, matched.values); !right)
    return std::unexpected(std::move(right.error()));
  Call call{matched.values, {}, {}, asked.caller};
  for (const auto& [key, value] : asked.request.params) call.query.emplace(key, value);
  if (route.method != Method::get) {
    if (auto ours = check_origin(asked.door, asked.head, asked.name); !ours)
      return std::unexpected(std::move(ours.error()));
    const auto length = check_body(asked.head, route.body);
    if (!length) return std::unexpected(length.error());
    if (route.body != Body::none) {
      asked.read = true;
      auto body = read_body(*asked.reader, *length);
      if (!body) return std::unexpected(std::move(body.error()));
      call.body = *std::move(body);
    }
  }
  asked.streaming = route.streams;
  return route.answer(house_, call);
}

Answer Wire::page(const Asked& asked) const {
  auto file = page_.find(asked.request.path);
  if (file == page_.end()) file = page_.find("/index.html");
  if (file == page_.end())
    return refuse(Why::not_found, "there is no page built in", "ask the API: /openapi.json");
  Reply reply{200, file->second.type, {}, {{"ETag", file->second.etag}, {"Vary", "Accept-Encoding"}}};
  reply.headers.emplace_back("Cache-Control",
                             file->second.lasts ? "public, max-age=31536000, immutable" : "no-cache");
  if (head_value(asked.request, "If-None-Match") == file->second.etag) {
    reply.status = 304;
    return reply;
  }
  const bool small = !file->second.gzip.empty() && accepts_gzip(asked.request);
  reply.body = small ? file->second.gzip : file->second.bytes;
  if (small) reply.headers.emplace_back("Content-Encoding", "gzip");
  return reply;
}

/// A link that somebody opened in a browser and that is over: the page says it, in words, with the same
/// status.
Answer Wire::page_for(const Asked& asked, const Refusal& refusal) const {
  Answer shown = page(asked);
  if (shown && shown->status == 200) shown->status = reply_of(refusal).status;
  return shown;
}

Answer Wire::answer_of(Asked& asked) {
  const auto name = asked_name(asked.door, asked.head.host);
  if (!name)
    return refuse(Why::not_allowed, "this server is not called that",
                  "use the address it printed at its start");
  asked.name = *name;
  const std::string& path = asked.request.path;
  const auto matched = match(asked.method, path);
  asked.caller = caller_of(asked);
  if (auto paced = pace(asked, matched.value_or(Matched{})); !paced)
    return std::unexpected(std::move(paced.error()));
  if (matched) {
    Answer answer = route(asked, *matched);
    const bool over = !answer && path.starts_with("/s/") && opens_page(asked.request);
    return over ? page_for(asked, answer.error()) : std::move(answer);
  }
  if (path.starts_with("/api/") || path == "/api" || asked.method != Method::get)
    return refuse(Why::not_found, "there is nothing here", "GET /openapi.json says what there is");
  return page(asked);
}

void Wire::stream(Asked& asked) {
  const std::string key = asked.caller.id.empty() ? asked.caller.address : asked.caller.id;
  // The host's own browser may open as many tabs as it likes.
  if (asked.caller.kind != Caller::Kind::host && !streams_.take(key, streams_each))
    return send(asked,
                reply_of(refuse(Why::too_many, "too many open pages on this device", "close some").error()));
  const bool counted = asked.caller.kind != Caller::Kind::host;
  auto listener =
      std::make_shared<EventStream>(house_, asked.caller, head_value(asked.request, "Last-Event-ID"));
  asked.response.set_header("Cache-Control", "no-store");
  asked.response.set_header("X-Accel-Buffering", "no");
  asked.response.set_chunked_content_provider(
      "text/event-stream", [listener](std::size_t, httplib::DataSink& sink) { return listener->write(sink); },
      [this, key, counted](bool) {
        if (counted) streams_.give_back(key);
      });
}

void Wire::send(Asked& asked, Reply reply) {
  httplib::Response& response = asked.response;
  response.status = reply.status;
  for (const auto& [name, value] : reply.headers) response.set_header(name, value);
  if (!response.has_header("Cache-Control")) response.set_header("Cache-Control", "no-store");
  const ShownHandle shown = reply.shown ? reply.shown : std::make_shared<const Shown>(std::move(reply.body));
  const std::string* body = &shown->text();
  if (body->empty()) return;
  const bool squeeze = asked.door.network && reply.type == json_type && body->size() > worth_squeezing &&
                       accepts_gzip(asked.request);
  if (squeeze && !shown->squeezed().empty()) {
    body = &shown->squeezed();
    response.set_header("Content-Encoding", "gzip");
  }
  // A provider, because the library would squeeze some types itself, at its slowest.
  response.set_content_provider(
      body->size(), reply.type,
      [shown, body](std::size_t offset, std::size_t length, httplib::DataSink& sink) {
        if (offset > body->size() || length > body->size() - offset) return false;
        return sink.write(body->data() + offset, length);
      });
}

void Wire::answer(const Door& door, Method method, const httplib::Request& request,
                  httplib::Response& response, const httplib::ContentReader* reader) {
  // Ranges are not served: the library would ask for bytes beyond the end. Whole answers are always right.
  const_cast<httplib::Request&>(request).ranges.clear();  // NOLINT: it is no constant where it comes from
  Asked asked{door, method, request, response, reader, {}, {}, {}};
  asked.head = {head_value(request, "Host"),
                head_value(request, "Origin"),
                head_value(request, "Sec-Fetch-Site"),
                head_value(request, "Content-Type"),
                head_value(request, "Content-Encoding"),
                head_value(request, "Content-Length"),
                request.has_header("Transfer-Encoding")};
  Answer answer;
  try {
    answer = answer_of(asked);
  } catch (const std::exception& fault) {
    answer = refuse(Why::failed, fmt::format("a fault of the program itself: {}", fault.what()),
                    "please report it, with the job folder");
  }
  if (reader != nullptr && !asked.read && !request.is_multipart_form_data()) drain(*reader);
  const bool fine = answer.has_value();
  for (const auto& [name, value] : usual_headers(fine ? answer->type : json_type))
    response.set_header(name, value);
  if (fine && asked.streaming) return stream(asked);
  send(asked, fine ? *std::move(answer) : reply_of(answer.error()));
}

}  // namespace firstdraw::serve
