// What the plan says: the view of the drawing, the whole plan, the folder as ZIP.
#include <nlohmann/json.hpp>

#include "serve/asked.hpp"
#include "serve/house.hpp"
#include "serve/route.hpp"
#include "serve/shown_job.hpp"
#include "serve/watch_clock.hpp"
#include "serve/zip.hpp"

namespace firstdraw::serve {
namespace {

Answer view(House& house, const Call& call) {
  const Watch watch;
  const auto asked = asked_of(call);
  if (!asked) return std::unexpected(asked.error());
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  const auto looked = (*job)->look(*asked);
  if (!looked) return std::unexpected(looked.error());
  return shown_reply(shown_view(house, **job, *looked, watch));
}

Answer whole_plan(House& house, const Call& call) {
  const auto asked = asked_of(call);
  if (!asked) return std::unexpected(asked.error());
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  const auto looked = (*job)->look(*asked);
  if (!looked) return std::unexpected(looked.error());
  return json_reply(plan::to_json(looked->job(), looked->plan()));
}

Answer folder(House& house, const Call& call) {
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  const auto zip = zip_of((*job)->desk().now()->text);
  if (!zip) return refuse(Why::failed, zip.error());
  return Reply{
      200, "application/zip", *zip, {{"Content-Disposition", attachment_header((*job)->id() + ".zip")}}};
}

}  // namespace

void add_plan_routes(Routes& routes) {
  routes.push_back({Method::get, "/api/jobs/{job}/view", Right::look, Body::none, view});
  routes.push_back({Method::get, "/api/jobs/{job}/plan", Right::look, Body::none, whole_plan});
  routes.push_back({Method::get, "/api/jobs/{job}/folder", Right::look, Body::none, folder});
}

}  // namespace firstdraw::serve
