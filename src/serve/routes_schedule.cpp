// A schedule that is being dragged.
#include <nlohmann/json.hpp>

#include "serve/asked.hpp"
#include "serve/house.hpp"
#include "serve/route.hpp"
#include "serve/try_schedule.hpp"

namespace firstdraw::serve {
namespace {

Answer try_one(House& house, const Call& call) {
  const auto periods = read_try_schedule(call.body);
  if (!periods) return refuse(periods.error());
  const auto asked = asked_of(call);
  if (!asked) return std::unexpected(asked.error());
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  const auto looked = (*job)->look({asked->units});
  if (!looked) return std::unexpected(looked.error());
  const auto week = (*job)->quick_week(*looked);
  const auto tried = try_schedule(looked->job(), *week, *periods);
  if (!tried) return std::unexpected(tried.error());
  return json_reply(*tried);
}

}  // namespace

void add_schedule_routes(Routes& routes) {
  routes.push_back({Method::post, "/api/jobs/{job}/schedule", Right::change, Body::json, try_one});
}

}  // namespace firstdraw::serve
