// A body of a request to the server, given to everything that reads one: what is refused says why in words
// that can be sent, and what is accepted is accepted again when it is written out anew.
#include <nlohmann/json.hpp>

#include "fuzz_folder.hpp"
#include "fuzz_targets.hpp"
#include "serve/answer.hpp"
#include "serve/bodies.hpp"

namespace firstdraw::fuzz {
namespace {

using nlohmann::json;

void check_refusal(const std::vector<job::Diagnostic>& problems) {
  if (problems.empty()) broken("a body that is refused has a reason");
  for (const job::Diagnostic& problem : problems)
    if (problem.message.empty()) broken("a reason has words");
  const auto refusal = serve::refuse(problems);
  if (json::parse(serve::reply_of(refusal.error()).body, nullptr, false).is_discarded())
    broken("a refusal can be sent");
}

template <class T>
void read_twice(serve::Read<T> (*read)(std::string_view), std::string_view body) {
  const auto value = read(body);
  if (!value) return check_refusal(value.error());
  const std::string anew = json::parse(body).dump();
  if (!read(anew)) broken("a body that is accepted is accepted when it is written anew");
}

void check_promises(std::string_view body) {
  if (const auto edit = serve::read_edit(body); edit && (edit->changes.empty() || edit->base < 0))
    broken("an edit changes something that somebody saw");
  if (const auto job = serve::read_new_job(body); job && !serve::is_plain_id(job->id))
    broken("the id of a job leads nowhere");
  if (const auto record = serve::read_new_record(body);
      record && (!serve::is_plain_id(record->entry) || record->who.empty() || record->at.empty()))
    broken("a record says who, when and which");
  if (const auto task = serve::read_new_task(body); task && !(task->days > 0)) broken("work takes some days");
  if (const auto tried = serve::read_try_schedule(body))
    for (const serve::AskedPeriod& period : tried->periods)
      if (period.weekdays > 0x7f || period.begin_s < 0 || period.end_s > 86400)
        broken("a period is in a week");
}

}  // namespace

int one_api_body(const std::uint8_t* data, std::size_t size) {
  const std::string_view body = text_of(data, size);
  read_twice(serve::read_new_job, body);
  read_twice(serve::read_edit, body);
  read_twice(serve::read_new_task, body);
  read_twice(serve::read_try_schedule, body);
  read_twice(serve::read_readings, body);
  read_twice(serve::read_new_record, body);
  read_twice(serve::read_pair, body);
  read_twice(serve::read_new_share, body);
  check_promises(body);
  return 0;
}

}  // namespace firstdraw::fuzz
