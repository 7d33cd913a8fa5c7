#include "serve/shown_job.hpp"

#include <fmt/format.h>

#include "serve/sheet_json.hpp"
#include "serve/view_json.hpp"

namespace firstdraw::serve {
namespace {

/// took_ms stands first, so that it can be exchanged.
constexpr std::string_view head = R"({"took_ms":)";

std::string step_key(const std::optional<desk::Step>& step) {
  return step ? fmt::format("{}\n{}", step->by, step->label) : "-";
}

}  // namespace

std::string took(std::string_view view, const Watch& since) {
  const std::size_t end = view.find(',');
  if (!view.starts_with(head) || end == std::string_view::npos)
    throw std::logic_error("a view begins with its time");
  return fmt::format("{}{:.1f}{}", head, since.elapsed_ms(), view.substr(end));
}

ShownHandle shown_view(House& house, OpenJob& job, const Looked& looked, const Watch& since) {
  const auto book = house.books.view(job, looked);
  const std::int64_t last_record = book ? (*book)->last_record : -1;
  const std::string key = fmt::format("view {} {} {} {}", looked.revision, name_of(looked.job().units),
                                      looked.plan().options.samples, last_record);
  return job.shown.get(key, [&] {
    const TestStates none;
    const std::string text = view_json(looked, book ? (*book)->tests : none).text();
    return fmt::format("{}{:.1f},{}", head, since.elapsed_ms(), std::string_view(text).substr(1));
  });
}

ShownHandle shown_sheet(OpenJob& job, const desk::Shared& snapshot) {
  const auto undo = job.desk().next_undo(), redo = job.desk().next_redo();
  const std::string key = fmt::format("sheet {}\n{}\n{}", snapshot->revision, step_key(undo), step_key(redo));
  return job.shown.get(key, [&] { return sheet_json(snapshot, undo, redo).text(); });
}

Reply shown_reply(ShownHandle shown) {
  Reply reply;
  reply.shown = std::move(shown);
  return reply;
}

}  // namespace firstdraw::serve
