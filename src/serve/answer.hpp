// What a request comes to: a reply, or why it was refused. The one place that turns failures into `Problems`
// of openapi.json.
#pragma once

#include <expected>
#include <functional>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "desk/change.hpp"
#include "job/diagnostic.hpp"
#include "serve/shown.hpp"
#include "store/failure.hpp"

namespace firstdraw::serve {

inline constexpr std::string_view json_type = "application/json; charset=utf-8";

using Headers = std::vector<std::pair<std::string, std::string>>;

struct Reply {
  int status = 200;
  std::string type{json_type};
  std::string body{};
  Headers headers{};
  ShownHandle shown{};  // instead of the body
};

enum class Why { bad_input, not_paired, not_allowed, not_found, conflict, too_large, too_many, busy, failed };

struct ConflictBy {
  desk::Conflict conflict;
  std::string by;
};

struct Refusal {
  Why why{};
  std::vector<job::Diagnostic> problems{};
  std::vector<ConflictBy> conflicts{};
  Headers headers{};
};

using Answer = std::expected<Reply, Refusal>;
template <class T>
using Maybe = std::expected<T, Refusal>;

Reply json_reply(const nlohmann::json& json, int status = 200);
Reply nothing_reply();  // 204

/// One problem, about `field` where there is one.
std::unexpected<Refusal> refuse(Why why, std::string_view message, std::string_view hint = "",
                                std::string_view field = "");
std::unexpected<Refusal> refuse(std::vector<job::Diagnostic> problems);  // bad input
std::unexpected<Refusal> refuse(const store::Failure& failure);

/// 400, 401, 403, 404, 409, 413, 429, 503 or 500.
int status_of(Why why);
/// The body of a refusal: schema Problems.
Reply reply_of(const Refusal& refusal);

nlohmann::json problem_json(const job::Diagnostic& problem);
nlohmann::json problems_json(const std::vector<job::Diagnostic>& problems);

/// Text that need not be UTF-8 (a folder's name) does not break it.
std::string text_of(const nlohmann::json& json);

}  // namespace firstdraw::serve
