// Long work: started, looked at, cancelled, its results.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "serve/house.hpp"
#include "serve/numbers.hpp"
#include "serve/page_files.hpp"
#include "serve/route.hpp"
#include "serve/zip.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

/// The task that a path names, when the caller may see its job.
Maybe<TaskHandle> task_of(House& house, const Call& call) {
  auto task = house.tasks.find(call.in_path("task"));
  if (task && !call.caller.may_see((*task)->job))
    return refuse(Why::not_allowed, "this link shows another job");
  return task;
}

Maybe<std::shared_ptr<const TaskResult>> result_of(House& house, const Call& call) {
  const auto task = task_of(house, call);
  if (!task) return std::unexpected(task.error());
  auto result = (*task)->result();
  if (!result) return refuse(Why::not_found, "it has no result yet", "wait until it is done");
  return result;
}

Answer list_tasks(House& house, const Call& call) {
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  json list = json::array();
  for (const TaskHandle& task : house.tasks.of_job((*job)->id())) list.push_back(task->json());
  return json_reply(list);
}

Answer new_task(House& house, const Call& call) {
  const auto asked = read_new_task(call.body);
  if (!asked) return refuse(asked.error());
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  const auto task = house.tasks.start(*job, *asked);
  if (!task) return std::unexpected(task.error());
  return json_reply((*task)->json(), 202);
}

Answer one_task(House& house, const Call& call) {
  const auto task = task_of(house, call);
  if (!task) return std::unexpected(task.error());
  return json_reply((*task)->json());
}

Answer cancel_task(House& house, const Call& call) {
  const auto task = task_of(house, call);
  if (!task) return std::unexpected(task.error());
  (*task)->cancel();
  return nothing_reply();
}

Answer result(House& house, const Call& call) {
  const auto found = result_of(house, call);
  if (!found) return std::unexpected(found.error());
  if ((*found)->json.empty()) return refuse(Why::not_found, "a pack has files instead", "", "what");
  return Reply{200, std::string(json_type), (*found)->json, {}};
}

/// Seconds in the query; `otherwise` when it names none.
Maybe<double> seconds_asked(const Call& call, const char* name, double least, double most, double otherwise) {
  const auto asked = call.asked(name);
  if (!asked) return otherwise;
  const auto number = number_of(*asked, least, most);
  if (!number)
    return refuse(Why::bad_input, fmt::format("seconds from {} to {} were expected", least, most), "", name);
  return *number;
}

Answer series(House& house, const Call& call) {
  constexpr double day_s = 86400, longest_s = 366 * day_s;
  const auto task = task_of(house, call);
  if (!task) return std::unexpected(task.error());
  const auto every_s = seconds_asked(call, "every_s", 1, day_s, 600);
  if (!every_s) return std::unexpected(every_s.error());
  const auto from_s = seconds_asked(call, "from_s", 0, longest_s, 0);
  if (!from_s) return std::unexpected(from_s.error());
  const auto source = (*task)->series();
  if (!source) return refuse(Why::not_found, "nothing is simulated yet");
  return json_reply(series_json(*source, *every_s, *from_s));
}

Answer pack_files(House& house, const Call& call) {
  const auto found = result_of(house, call);
  if (!found) return std::unexpected(found.error());
  json names = json::array();
  for (const auto& [name, bytes] : (*found)->files) names.push_back(name);
  return json_reply(names);
}

Answer whole_pack(const TaskResult& result) {
  const auto zip = zip_of(result.files);
  if (!zip) return refuse(Why::failed, zip.error());
  return Reply{200, "application/zip", *zip, {{"Content-Disposition", attachment_header("pack.zip")}}};
}

Answer pack_file(House& house, const Call& call) {
  const auto found = result_of(house, call);
  if (!found) return std::unexpected(found.error());
  const std::string& name = call.in_path("name");
  if (name == "pack.zip" && !(*found)->files.empty()) return whole_pack(**found);
  const auto file = (*found)->files.find(name);
  if (file == (*found)->files.end()) return refuse(Why::not_found, "the pack has no such file", "", "name");
  return Reply{200, std::string(type_by_name(name)), file->second, {}};
}

}  // namespace

void add_task_routes(Routes& routes) {
  using enum Method;
  routes.push_back({get, "/api/jobs/{job}/tasks", Right::look, Body::none, list_tasks});
  routes.push_back({post, "/api/jobs/{job}/tasks", Right::change, Body::json, new_task});
  routes.push_back({get, "/api/tasks/{task}", Right::look, Body::none, one_task});
  routes.push_back({remove, "/api/tasks/{task}", Right::change, Body::none, cancel_task});
  routes.push_back({get, "/api/tasks/{task}/result", Right::look, Body::none, result});
  routes.push_back({get, "/api/tasks/{task}/series", Right::look, Body::none, series});
  routes.push_back({get, "/api/tasks/{task}/files", Right::look, Body::none, pack_files});
  routes.push_back({get, "/api/tasks/{task}/files/{name}", Right::look, Body::none, pack_file});
}

}  // namespace firstdraw::serve
