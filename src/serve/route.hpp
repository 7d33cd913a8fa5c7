// The operations of openapi.json as a table: who may, what comes in, what answers. One file for each resource
// adds its own.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "serve/answer.hpp"

namespace firstdraw::serve {

struct House;

/// Who asks.
struct Caller {
  enum class Kind {
    host,      // this machine
    device,    // paired
    guest,     // by a link that shows one job
    stranger,  // from the network, not paired
  } kind = Kind::stranger;
  std::string id{};       // of a device or a link
  std::string name{};     // of a device; "host"
  std::string job{};      // the one that a guest may see
  std::string address{};  // of the network

  bool may_change() const { return kind == Kind::host || kind == Kind::device; }
  bool may_see(std::string_view job_id) const {
    return may_change() || (kind == Kind::guest && job == job_id);
  }
};

/// What an operation asks of its caller.
enum class Right {
  anyone,
  look,    // host, devices, and guests at their job
  change,  // host and devices
  host,
};
enum class Body { none, json, file };
enum class Method { get, post, remove };

struct Call {
  std::map<std::string, std::string> path{};  // {job} and the like
  std::map<std::string, std::string> query{};
  std::string body{};
  Caller caller{};

  const std::string& in_path(const std::string& name) const { return path.at(name); }
  std::optional<std::string> asked(const std::string& name) const {
    const auto found = query.find(name);
    return found == query.end() ? std::nullopt : std::optional(found->second);
  }
};

struct Route {
  Method method{};
  std::string_view path{};  // as in openapi.json
  Right right = Right::look;
  Body body = Body::none;
  Answer (*answer)(House&, const Call&) = nullptr;
  bool streams = false;  // events: the server goes on writing
};
using Routes = std::vector<Route>;

void add_job_routes(Routes& routes);
void add_plan_routes(Routes& routes);
void add_task_routes(Routes& routes);
void add_schedule_routes(Routes& routes);
void add_field_routes(Routes& routes);
void add_record_routes(Routes& routes);
void add_file_routes(Routes& routes);
void add_access_routes(Routes& routes);
void add_about_routes(Routes& routes);
const Routes& all_routes();

struct Matched {
  const Route* route = nullptr;  // null: the path is known, but not with this method
  std::map<std::string, std::string> values{};
};
/// None: no operation has this path. `path` is decoded.
std::optional<Matched> match(Method method, std::string_view path);

}  // namespace firstdraw::serve
