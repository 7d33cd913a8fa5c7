// Text that many devices ask for at once, made once: the view of a job, its sheet.
#pragma once

#include <functional>
#include <future>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

namespace firstdraw::serve {

class Shown {
 public:
  explicit Shown(std::string text) : text_(std::move(text)) {}
  const std::string& text() const { return text_; }
  /// As gzip, made when first asked for; empty: the text does not shrink.
  const std::string& squeezed() const;

 private:
  const std::string text_;
  mutable std::once_flag once_;
  mutable std::string squeezed_;
};
using ShownHandle = std::shared_ptr<const Shown>;

/// The last few texts by their key. Whoever asks while one is being made waits for it.
class ShownOnce {
 public:
  explicit ShownOnce(std::size_t kept) : kept_(kept) {}
  /// What `make` throws is thrown to everybody who waits, and forgotten.
  ShownHandle get(const std::string& key, const std::function<std::string()>& make);

 private:
  struct Entry {
    std::string key;
    std::shared_future<ShownHandle> shown;
  };
  void forget(const std::string& key);
  const std::size_t kept_;
  std::mutex mutex_;
  std::vector<Entry> entries_;  // latest last
};

}  // namespace firstdraw::serve
