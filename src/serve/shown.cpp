#include "serve/shown.hpp"

#include <algorithm>

#include "serve/page_files.hpp"

namespace firstdraw::serve {

const std::string& Shown::squeezed() const {
  std::call_once(once_, [this] { squeezed_ = serve::squeezed(text_); });
  return squeezed_;
}

ShownHandle ShownOnce::get(const std::string& key, const std::function<std::string()>& make) {
  std::promise<ShownHandle> promise;
  std::shared_future<ShownHandle> there;
  {
    const std::lock_guard lock(mutex_);
    const auto found = std::ranges::find(entries_, key, &Entry::key);
    if (found != entries_.end()) {
      there = found->shown;
    } else {
      if (entries_.size() >= kept_) entries_.erase(entries_.begin());
      entries_.push_back({key, promise.get_future().share()});
    }
  }
  if (there.valid()) return there.get();
  try {
    auto shown = std::make_shared<const Shown>(make());
    promise.set_value(shown);
    return shown;
  } catch (...) {
    forget(key);
    promise.set_exception(std::current_exception());
    throw;
  }
}

void ShownOnce::forget(const std::string& key) {
  const std::lock_guard lock(mutex_);
  std::erase_if(entries_, [&key](const Entry& entry) { return entry.key == key; });
}

}  // namespace firstdraw::serve
