// What the page talks to, the description of it all, and the stream of events.
#include <nlohmann/json.hpp>

#include "serve/about_json.hpp"
#include "serve/house.hpp"
#include "serve/route.hpp"

const std::map<std::string_view, std::string_view>& embedded_serve();

namespace firstdraw::serve {

nlohmann::json about_json(const House& house, const Caller& caller) {
  const bool guest = caller.kind == Caller::Kind::guest;
  return {{"version", house.options.version},
          {"lan", house.options.lan},
          {"may_edit", caller.may_change()},
          {"may_record", caller.may_change()},
          {"is_host", caller.kind == Caller::Kind::host},
          {"device", caller.kind == Caller::Kind::device || guest ? caller.name : ""},
          {"only_job", guest ? nlohmann::json(caller.job) : nlohmann::json()}};
}

namespace {

Answer about(House& house, const Call& call) { return json_reply(about_json(house, call.caller)); }

Answer description(House&, const Call&) {
  return Reply{200,
               std::string(json_type),
               std::string(embedded_serve().at("openapi.json")),
               {{"Cache-Control", "no-cache"}}};
}

/// The server goes on writing: event_stream.hpp.
Answer events(House&, const Call&) { return Reply{200, "text/event-stream", "", {}}; }

}  // namespace

void add_about_routes(Routes& routes) {
  routes.push_back({Method::get, "/api/server", Right::anyone, Body::none, about});
  routes.push_back({Method::get, "/openapi.json", Right::anyone, Body::none, description});
  routes.push_back({Method::get, "/api/events", Right::look, Body::none, events, true});
}

}  // namespace firstdraw::serve
