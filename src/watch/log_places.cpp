#include "watch/log_places.hpp"

#include <algorithm>

#include "units/quantity.hpp"
#include "watch/log_words.hpp"

namespace firstdraw::watch {
namespace {

struct Name {
  std::string id;
  std::vector<std::string> words;
};

/// "r", "04" is also written "4".
std::vector<std::string> plain_words(std::string_view text) {
  std::vector<std::string> words = words_of(text);
  for (std::string& word : words) {
    while (word.size() > 1 && word.front() == '0') word.erase(0, 1);
  }
  return words;
}

std::vector<Name> names_of(const job::Job& job, std::span<const std::string> circuits) {
  std::vector<Name> names;
  for (const std::string& id : log_places(job, circuits)) names.push_back({id, plain_words(id)});
  for (const auto& group : job.groups) names.push_back({group.id, plain_words(group.name)});
  for (const auto& space : job.spaces) names.push_back({space.id, plain_words(space.name)});
  std::erase_if(names, [](const Name& name) { return name.words.empty(); });
  return names;
}

bool holds(const std::vector<std::string>& words, const std::vector<std::string>& wanted) {
  return !std::ranges::search(words, wanted).empty();
}

std::size_t letters_of(const std::vector<std::string>& words) {
  std::size_t letters = 0;
  for (const std::string& word : words) letters += word.size();
  return letters;
}

}  // namespace

std::vector<std::string> log_places(const job::Job& job, std::span<const std::string> circuits) {
  std::vector<std::string> ids;
  const auto add = [&ids](const std::string& id) {
    if (std::ranges::find(ids, id) == ids.end()) ids.push_back(id);
  };
  for (const auto& group : job.groups) add(group.id);
  for (const std::string& circuit : circuits) add(circuit);
  for (const auto& circuit : job.known_circuits) add(circuit.id);
  for (const auto& run : job.runs) add(run.id);
  for (const auto& outlet : job.outlets) add(outlet.id);
  for (const auto& space : job.spaces) add(space.id);
  return ids;
}

FoundPlace find_place(std::string_view header, const job::Job& job, std::span<const std::string> circuits) {
  const std::vector<std::string> words = plain_words(header);
  const std::vector<Name> names = names_of(job, circuits);
  const Name* best = nullptr;
  for (const Name& name : names) {
    if (holds(words, name.words) && (best == nullptr || letters_of(name.words) > letters_of(best->words)))
      best = &name;
  }
  if (best != nullptr) return {best->id, false};
  std::vector<std::string> long_ids;
  for (const Name& name : names) {
    if (name.id.size() >= 4) long_ids.push_back(name.id);
  }
  for (const std::string& word : words) {
    if (word.size() < 4) continue;
    if (const auto near = units::nearest(word, long_ids)) return {*near, true};
  }
  return {};
}

}  // namespace firstdraw::watch
