// The field: a circuit's page, verdicts, what may be wrong.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "serve/circuit_page.hpp"
#include "serve/diagnosis_json.hpp"
#include "serve/house.hpp"
#include "serve/readings_in.hpp"
#include "serve/route.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

/// Samples of each cause: what answers in a second or two on a phone's patience; the command line has more.
constexpr int samples_of_a_diagnosis = 1000;

struct Opened {
  JobHandle job;
  Looked looked;
};

Maybe<Opened> open(House& house, const Call& call) {
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  Asked asked;
  if (const auto units = call.asked("units"); units && (*units == "us" || *units == "metric"))
    asked.units = *units == "us" ? units::System::us : units::System::metric;
  const auto looked = (*job)->look(asked);
  if (!looked) return std::unexpected(looked.error());
  return Opened{*job, *looked};
}

Answer circuit(House& house, const Call& call) {
  const auto opened = open(house, call);
  if (!opened) return std::unexpected(opened.error());
  const auto& circuits = opened->looked.plan().circuits;
  const auto found = std::ranges::find(circuits, call.in_path("circuit"), &power::Circuit::id);
  if (found == circuits.end()) {
    std::vector<std::string> ids;
    for (const power::Circuit& each : circuits) ids.push_back(each.id);
    const auto near = units::nearest(call.in_path("circuit"), ids);
    return refuse(Why::not_found, fmt::format("the job has no circuit \"{}\"", call.in_path("circuit")),
                  near ? fmt::format("did you mean {}?", *near) : "");
  }
  const auto book = house.books.view(*opened->job, opened->looked);
  if (!book) return std::unexpected(book.error());
  return json_reply(circuit_page(*found, **book, opened->looked));
}

Answer judge(House& house, const Call& call) {
  const auto asked = read_readings(call.body);
  if (!asked) return refuse(asked.error());
  const auto opened = open(house, call);
  if (!opened) return std::unexpected(opened.error());
  const auto rows =
      read_rows(asked->readings, asked->instrument, asked->at, opened->looked.job(), opened->looked.plan());
  return json_reply(judged_json(rows, opened->looked));
}

Answer diagnose(House& house, const Call& call) {
  const auto asked = read_readings(call.body);
  if (!asked) return refuse(asked.error());
  const auto opened = open(house, call);
  if (!opened) return std::unexpected(opened.error());
  std::vector<prove::Reading> readings;
  std::vector<job::Diagnostic> problems;
  for (ReadRow& row : read_rows(asked->readings, asked->instrument, asked->at, opened->looked.job(),
                                opened->looked.plan())) {
    if (row.reading)
      readings.push_back(*std::move(row.reading));
    else
      problems.push_back(std::move(row.problem));
  }
  if (!problems.empty()) return refuse(std::move(problems));
  if (readings.empty())
    return refuse(Why::bad_input, "nothing was measured", "one current is enough to begin", "readings");
  prove::DiagnosisOptions options;
  options.samples = samples_of_a_diagnosis;
  options.threads = house.options.threads;
  return json_reply(
      diagnosis_json(prove::diagnose(opened->looked.job(), opened->looked.plan(), readings, options)));
}

}  // namespace

void add_field_routes(Routes& routes) {
  using enum Method;
  routes.push_back({get, "/api/jobs/{job}/circuits/{circuit}", Right::look, Body::none, circuit});
  routes.push_back({post, "/api/jobs/{job}/judge", Right::change, Body::json, judge});
  routes.push_back({post, "/api/jobs/{job}/diagnose", Right::change, Body::json, diagnose});
}

}  // namespace firstdraw::serve
