// A plan made on two threads with what earlier plans of the building came to is the plan made on one from
// nothing, in every digit.
// The other side is the same program without a memory: a check of the memory, not of the physics.
#include "power/known.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <random>

#include "job/folder.hpp"
#include "places.hpp"
#include "plan/plan.hpp"
#include "plan/small_job.hpp"

namespace firstdraw::plan {
namespace {

constexpr Options no_samples{0, 1, 1}, on_two_threads{0, 1, 2};

job::Job hotel() {
  auto job = job::read_job(places::sources() + "/examples/hotel");
  if (!job) throw std::runtime_error("the example hotel does not read");
  return std::move(*job);
}

/// Every kind of input that the memory asks by, or must not forget to.
using Turn = void (*)(job::Job&, std::mt19937&);
const std::vector<Turn> turns = {
    [](job::Job& job, std::mt19937& any) { job.runs[any() % job.runs.size()].length_m *= 1.1; },
    [](job::Job& job, std::mt19937& any) { job.runs[any() % job.runs.size()].pipe.outer_diameter_m *= 1.05; },
    [](job::Job& job, std::mt19937& any) { job.runs[any() % job.runs.size()].traced ^= true; },
    [](job::Job& job, std::mt19937& any) { job.panels[any() % job.panels.size()].voltage_v *= 1.01; },
    [](job::Job& job, std::mt19937& any) { job.groups[any() % job.groups.size()].maintain_c += 0.5; },
    [](job::Job& job, std::mt19937&) { job.requirements.start_c -= 1; },
    [](job::Job& job, std::mt19937&) { job.requirements.margin_frac += 0.01; },
    [](job::Job& job, std::mt19937&) { std::swap(job.cables.front(), job.cables.back()); },
    [](job::Job& job, std::mt19937&) { job.cables.front().bus_loop_ohm_per_m *= 1.2; },
    [](job::Job& job, std::mt19937&) { job.cables.front().price_per_m *= 1.2; },
    [](job::Job& job, std::mt19937&) { std::swap(job.runs.front(), job.runs.back()); },
};

void expect_same_plans(const job::Job& first, int rounds) {
  job::Job job = first;
  const auto known = std::make_shared<power::Known>();
  std::mt19937 any(20);
  for (int round = 0; round < rounds; ++round) {
    const std::string fresh = to_json(job, make_plan(job, no_samples)).dump();
    EXPECT_EQ(fresh, to_json(job, make_plan(job, on_two_threads, known)).dump()) << "round " << round;
    turns[any() % turns.size()](job, any);
  }
}

TEST(Known, APlanWithAMemoryAndThreadsIsThePlanWithout) {
  expect_same_plans(small_job(), 60);
  expect_same_plans(hotel(), 40);
}

TEST(Known, WhatWasAskedBeforeIsNotFoundAgain) {
  power::Remembered<int, int> kept;
  int found = 0;
  const auto ask = [&](int question) { return kept.get(question, [&] { return ++found, 2 * question; }); };
  EXPECT_EQ(ask(4), 8);
  EXPECT_EQ(ask(4), 8);
  kept.next_round();
  EXPECT_EQ(ask(4), 8);
  EXPECT_EQ(found, 1) << "of the round before";
  kept.next_round();
  kept.next_round();
  EXPECT_EQ(ask(4), 8);
  EXPECT_EQ(found, 2) << "not asked for in a whole round: forgotten";
}

}  // namespace
}  // namespace firstdraw::plan
