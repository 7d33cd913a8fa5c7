#include "serve/answer.hpp"

#include <nlohmann/json.hpp>

namespace firstdraw::serve {
namespace {

using nlohmann::json;

std::string_view kind_of(Why why) {
  switch (why) {
    case Why::bad_input:
      return "bad-input";
    case Why::not_paired:
    case Why::not_allowed:
      return "not-allowed";
    case Why::not_found:
      return "not-found";
    case Why::conflict:
      return "conflict";
    case Why::too_large:
      return "too-large";
    case Why::too_many:
      return "too-many";
    case Why::busy:
      return "busy";
    case Why::failed:
      break;
  }
  return "failed";
}

json conflict_json(const ConflictBy& each) {
  const desk::Conflict& conflict = each.conflict;
  return {{"table", conflict.table},
          {"row", conflict.row},
          {"column", conflict.column},
          {"was", conflict.was},
          {"now", conflict.now},
          {"yours", conflict.yours},
          {"by", each.by}};
}

Why why_of(store::FailureKind kind) {
  using enum store::FailureKind;
  if (kind == bad_input) return Why::bad_input;
  return kind == busy || kind == unreachable ? Why::busy : Why::failed;
}

}  // namespace

Reply json_reply(const json& body, int status) {
  Reply reply;
  reply.status = status;
  reply.body = text_of(body);
  return reply;
}

Reply nothing_reply() { return {204, "", "", {}}; }

std::unexpected<Refusal> refuse(Why why, std::string_view message, std::string_view hint,
                                std::string_view field) {
  Refusal refusal{why};
  job::Diagnostic problem;
  problem.message = message;
  problem.hint = hint;
  problem.field = field;
  refusal.problems.push_back(std::move(problem));
  return std::unexpected(std::move(refusal));
}

std::unexpected<Refusal> refuse(std::vector<job::Diagnostic> problems) {
  Refusal refusal{Why::bad_input};
  refusal.problems = std::move(problems);
  return std::unexpected(std::move(refusal));
}

std::unexpected<Refusal> refuse(const store::Failure& failure) {
  return refuse(why_of(failure.kind), failure.what, failure.remedy);
}

int status_of(Why why) {
  switch (why) {
    case Why::bad_input:
      return 400;
    case Why::not_paired:
      return 401;
    case Why::not_allowed:
      return 403;
    case Why::not_found:
      return 404;
    case Why::conflict:
      return 409;
    case Why::too_large:
      return 413;
    case Why::too_many:
      return 429;
    case Why::busy:
      return 503;
    case Why::failed:
      break;
  }
  return 500;
}

Reply reply_of(const Refusal& refusal) {
  json body{{"kind", kind_of(refusal.why)}, {"problems", problems_json(refusal.problems)}};
  if (refusal.why == Why::conflict) {
    body["conflicts"] = json::array();
    for (const ConflictBy& each : refusal.conflicts) body["conflicts"].push_back(conflict_json(each));
  }
  Reply reply = json_reply(body, status_of(refusal.why));
  reply.headers = refusal.headers;
  return reply;
}

json problem_json(const job::Diagnostic& problem) {
  return {{"message", problem.message},
          {"hint", problem.hint},
          {"file", problem.file},
          {"line", problem.line},
          {"field", problem.field}};
}

json problems_json(const std::vector<job::Diagnostic>& problems) {
  json list = json::array();
  for (const job::Diagnostic& problem : problems) list.push_back(problem_json(problem));
  return list;
}

std::string text_of(const json& body) { return body.dump(-1, ' ', false, json::error_handler_t::replace); }

}  // namespace firstdraw::serve
