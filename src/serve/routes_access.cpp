// Pairing, devices, links that show a job.
#include <nlohmann/json.hpp>

#include "serve/about_json.hpp"
#include "serve/guard.hpp"
#include "serve/house.hpp"
#include "serve/route.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

constexpr long year_s = 365L * 86400;

Maybe<void> needs_lan(const House& house) {
  if (house.options.lan) return {};
  return refuse(Why::not_allowed, "this server is not reached from the network",
                "start firstdraw serve with --lan");
}

Answer pair(House& house, const Call& call) {
  if (auto lan = needs_lan(house); !lan) return std::unexpected(std::move(lan.error()));
  const auto asked = read_pair(call.body);
  if (!asked) return refuse(asked.error());
  const auto paired = house.access.pair(*asked);
  if (!paired) return std::unexpected(paired.error());
  Caller caller{Caller::Kind::device, paired->first.id, paired->first.name, "", call.caller.address};
  Reply reply = json_reply(about_json(house, caller));
  reply.headers.emplace_back("Set-Cookie",
                             cookie_header({true, 0, {}}, device_cookie, paired->second, year_s));
  return reply;
}

Answer pairing_code(House& house, const Call&) {
  if (auto lan = needs_lan(house); !lan) return std::unexpected(std::move(lan.error()));
  const std::string code = house.access.new_code();
  return json_reply({{"code", code},
                     {"good_for_s", Access::code_lives.count()},
                     {"address", house.lan_address + "/pair#" + code},
                     {"fingerprint", house.fingerprint}});
}

Answer devices(House& house, const Call& call) {
  json list = json::array();
  for (const PairedDevice& device : house.access.devices())
    list.push_back({{"id", device.id},
                    {"name", device.name},
                    {"paired_at", text_of(device.paired_at)},
                    {"last_seen", text_of(device.last_seen)},
                    {"this_one", device.id == call.caller.id}});
  return json_reply(list);
}

Answer revoke(House& house, const Call& call) {
  if (auto done = house.access.revoke(call.in_path("device")); !done)
    return std::unexpected(std::move(done.error()));
  return nothing_reply();
}

json share_json(const ShareLink& share, const json& address) {
  return {{"id", share.id},
          {"name", share.name},
          {"job", share.job},
          {"until", text_of(share.until)},
          {"address", address}};
}

Answer shares(House& house, const Call& call) {
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  json list = json::array();
  for (const ShareLink& share : house.access.shares_of((*job)->id()))
    list.push_back(share_json(share, nullptr));
  return json_reply(list);
}

Answer new_share(House& house, const Call& call) {
  if (auto lan = needs_lan(house); !lan) return std::unexpected(std::move(lan.error()));
  const auto asked = read_new_share(call.body);
  if (!asked) return refuse(asked.error());
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  const auto made = house.access.share((*job)->id(), *asked);
  if (!made) return std::unexpected(made.error());
  return json_reply(share_json(made->first, house.lan_address + "/s/" + made->second), 201);
}

Answer revoke_share(House& house, const Call& call) {
  auto done = house.access.revoke_share(call.in_path("job"), call.in_path("share"));
  if (!done) return std::unexpected(std::move(done.error()));
  return nothing_reply();
}

/// A link that was sent: its token becomes a cookie, and the page opens.
Answer come_in(House& house, const Call& call) {
  const auto share = house.access.share_of(call.in_path("token"));
  if (!share) return refuse(Why::not_found, "this link is no longer good", "ask for a new one");
  const auto left = share->until - std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
  Reply reply{303, "", "", {{"Location", "/"}}};
  reply.headers.emplace_back("Set-Cookie",
                             cookie_header({true, 0, {}}, share_cookie, call.in_path("token"), left.count()));
  return reply;
}

}  // namespace

void add_access_routes(Routes& routes) {
  using enum Method;
  routes.push_back({post, "/api/pair", Right::anyone, Body::json, pair});
  routes.push_back({post, "/api/pairing-code", Right::host, Body::none, pairing_code});
  routes.push_back({get, "/api/devices", Right::host, Body::none, devices});
  routes.push_back({remove, "/api/devices/{device}", Right::host, Body::none, revoke});
  routes.push_back({get, "/api/jobs/{job}/shares", Right::change, Body::none, shares});
  routes.push_back({post, "/api/jobs/{job}/shares", Right::change, Body::json, new_share});
  routes.push_back({remove, "/api/jobs/{job}/shares/{share}", Right::change, Body::none, revoke_share});
  routes.push_back({get, "/s/{token}", Right::anyone, Body::none, come_in});
}

}  // namespace firstdraw::serve
