// A file of readings as a technician types them, against the job of the template and its plan.
#include "fuzz_folder.hpp"
#include "fuzz_targets.hpp"
#include "job/folder.hpp"
#include "plan/plan.hpp"
#include "prove/readings_file.hpp"

namespace firstdraw::fuzz {
namespace {

job::Job template_job() {
  const auto folder = empty_folder("template");
  if (!job::write_template(folder)) broken("the template can be written");
  const auto job = job::read_job(folder);
  if (!job) broken("the template can be read");
  return *job;
}

}  // namespace

int one_readings_csv(const std::uint8_t* data, std::size_t size) {
  static const job::Job job = template_job();
  static const plan::Plan plan = plan::make_plan(job, plan::Options{0, 1, 1});
  const auto readings = prove::read_readings(text_of(data, size), "readings.csv", job, plan);
  if (!readings) {
    if (readings.error().empty()) broken("readings that are refused have a reason");
    for (const auto& problem : readings.error()) static_cast<void>(problem.text());
    return 0;
  }
  const auto again = prove::read_readings(prove::write_readings(*readings, job), "again.csv", job, plan);
  if (!again) broken("readings that were written can be read");
  if (*again != *readings) broken("readings that were written read back to the same");
  const auto body = prove::from_body(prove::to_body(*readings));
  if (!body || *body != *readings) broken("readings become a record's body and come back the same");
  return 0;
}

}  // namespace firstdraw::fuzz
