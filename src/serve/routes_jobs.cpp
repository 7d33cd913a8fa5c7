// Jobs, their sheets, edits, undo and redo.
#include <fmt/format.h>

#include <future>
#include <nlohmann/json.hpp>

#include "serve/house.hpp"
#include "serve/route.hpp"
#include "serve/sheet_json.hpp"
#include "serve/shown_job.hpp"
#include "serve/view_json.hpp"
#include "serve/watch_clock.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

json entry_json(OpenJob& open) {
  const desk::Shared now = open.desk().now();
  const bool reads = now->job && now->plan;
  return {{"id", open.id()},
          {"name", reads ? now->job->site.name : open.id()},
          {"revision", now->revision},
          {"units", name_of(units_of(*now))},
          {"runs", reads ? now->job->runs.size() : 0},
          {"circuits", reads ? now->plan->circuits.size() : 0},
          {"stops", reads ? now->plan->totals.stops : 0},
          {"problems", problems_json(now->problems)},
          {"project_number", reads ? now->job->site.project_number : ""},
          {"address", reads ? now->job->site.page : ""}};
}

/// A folder that cannot even be opened stands on the list with its problems.
json unopened_json(const std::string& id, const Refusal& why) {
  return {{"id", id},  {"name", id},    {"revision", 0}, {"units", "us"},
          {"runs", 0}, {"circuits", 0}, {"stops", 0},    {"problems", problems_json(why.problems)}};
}

Answer list_jobs(House& house, const Call& call) {
  json list = json::array();
  for (const std::string& id : house.jobs.ids()) {
    if (!call.caller.may_see(id)) continue;
    const auto job = house.jobs.find(id);
    list.push_back(job ? entry_json(**job) : unopened_json(id, job.error()));
  }
  return json_reply(list);
}

Answer new_job(House& house, const Call& call) {
  const auto asked = read_new_job(call.body);
  if (!asked) return refuse(asked.error());
  const auto job = house.jobs.create(*asked);
  if (!job) return std::unexpected(job.error());
  house.events.publish("jobs", "", json::object());
  return json_reply(entry_json(**job), 201);
}

Answer sheet(House& house, const Call& call) {
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  return shown_reply(shown_sheet(**job, (*job)->desk().now()));
}

/// What a saved step answers; a job that does not read yet has no view.
Answer edited(House& house, OpenJob& job, const desk::Shared& now, const Watch& watch) {
  std::future<ShownHandle> sheet = std::async(std::launch::async, [&] { return shown_sheet(job, now); });
  std::string view = "null";
  if (const auto looked = job.look(now, {}))
    view = took(shown_view(house, job, *looked, watch)->text(), watch);
  Reply reply;
  reply.body =
      fmt::format(R"({{"revision":{},"sheet":{},"view":{}}})", now->revision, sheet.get()->text(), view);
  return reply;
}

Answer refused(OpenJob& job, const desk::Refused& why) {
  Refusal refusal{why.conflicts.empty() ? Why::bad_input : Why::conflict};
  refusal.problems = why.problems;
  for (const desk::Conflict& conflict : why.conflicts)
    refusal.conflicts.push_back(
        {conflict, job.desk().last_editor(conflict.table, conflict.row, conflict.column)});
  return std::unexpected(std::move(refusal));
}

Answer edit(House& house, const Call& call) {
  const Watch watch;
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  auto asked = read_edit(call.body);
  if (!asked) return refuse(asked.error());
  asked->by = call.caller.name;
  const auto now = (*job)->desk().edit(*asked);
  if (!now) return refused(**job, now.error());
  return edited(house, **job, *now, watch);
}

template <auto Step>
Answer step(House& house, const Call& call) {
  const Watch watch;
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  const auto now = ((*job)->desk().*Step)(call.caller.name);
  if (!now) return refused(**job, now.error());
  return edited(house, **job, *now, watch);
}

}  // namespace

void add_job_routes(Routes& routes) {
  routes.push_back({Method::get, "/api/jobs", Right::look, Body::none, list_jobs});
  routes.push_back({Method::post, "/api/jobs", Right::change, Body::json, new_job});
  routes.push_back({Method::get, "/api/jobs/{job}/sheet", Right::look, Body::none, sheet});
  routes.push_back({Method::post, "/api/jobs/{job}/edits", Right::change, Body::json, edit});
  routes.push_back(
      {Method::post, "/api/jobs/{job}/undo", Right::change, Body::none, step<&desk::Desk::undo>});
  routes.push_back(
      {Method::post, "/api/jobs/{job}/redo", Right::change, Body::none, step<&desk::Desk::redo>});
}

}  // namespace firstdraw::serve
