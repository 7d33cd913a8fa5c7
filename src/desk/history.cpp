#include "desk/history.hpp"

#include <algorithm>

namespace firstdraw::desk {

namespace {

Patch patch_of(const std::string& name, std::string_view before, std::string_view after) {
  const auto [b, a] = std::ranges::mismatch(before, after);
  const auto at = static_cast<std::size_t>(b - before.begin());
  std::size_t same = 0;
  const std::size_t most = std::min(before.size(), after.size()) - at;
  while (same < most && before[before.size() - 1 - same] == after[after.size() - 1 - same]) ++same;
  return {name, at, std::string(before.substr(at, before.size() - at - same)),
          std::string(after.substr(at, after.size() - at - same))};
}

void put(JobText& text, const Patch& patch, const std::string& out, const std::string& in, bool there) {
  if (!there) {
    text.erase(patch.name);
  } else {
    text[patch.name].replace(patch.at, out.size(), in);
  }
}

}  // namespace

std::vector<Patch> patches(const JobText& before, const JobText& after) {
  std::vector<Patch> all;
  for (const auto& [name, now] : after) {
    const auto old = before.find(name);
    if (old != before.end() && old->second == now) continue;
    Patch patch = patch_of(name, old == before.end() ? std::string_view() : old->second, now);
    patch.was_there = old != before.end();
    all.push_back(std::move(patch));
  }
  for (const auto& [name, old] : before)
    if (!after.contains(name)) all.push_back({name, 0, old, "", true, false});
  return all;
}

JobText forward(JobText text, const std::vector<Patch>& patches) {
  for (const Patch& patch : patches) put(text, patch, patch.before, patch.after, patch.is_there);
  return text;
}

JobText back(JobText text, const std::vector<Patch>& patches) {
  for (const Patch& patch : patches) put(text, patch, patch.after, patch.before, patch.was_there);
  return text;
}

void History::add(Step step, const JobText& before, const JobText& after) {
  entries_.resize(at_);
  entries_.push_back({std::move(step), patches(before, after)});
  if (entries_.size() > longest) entries_.pop_front();
  at_ = entries_.size();
}

}  // namespace firstdraw::desk
