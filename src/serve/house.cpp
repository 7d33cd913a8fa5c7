#include "serve/house.hpp"

#include <nlohmann/json.hpp>

namespace firstdraw::serve {
namespace {

constexpr int tasks_at_once = 2;

}  // namespace

House::House(HouseOptions chosen)
    : options(std::move(chosen)),
      events(random_token().substr(0, 12)),
      books(options.store, events),
      uploads(options.state / "uploads"),
      access(options.state / "devices.json"),
      jobs(options.place, options.threads,
           [this](OpenJob& job, const desk::Shared& now, const desk::Step& step) {
             events.publish(
                 "job", job.id(),
                 {{"job", job.id()}, {"revision", now->revision}, {"by", step.by}, {"label", step.label}});
           }),
      tasks(*this, tasks_at_once) {}

void House::look_around() {
  for (const JobHandle& job : jobs.opened()) {
    job->desk().look_at_disk();
    books.look(*job);
  }
}

House::~House() {
  tasks.close();
  events.close();
}

}  // namespace firstdraw::serve
