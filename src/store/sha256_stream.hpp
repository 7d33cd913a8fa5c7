// SHA-256 of bytes that come in pieces.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

namespace firstdraw::store {

class Sha256Stream {
 public:
  Sha256Stream();
  ~Sha256Stream();
  Sha256Stream(const Sha256Stream&) = delete;
  Sha256Stream& operator=(const Sha256Stream&) = delete;

  void add(std::string_view bytes);
  std::int64_t bytes() const { return bytes_; }
  /// Lower-case hexadecimal; nothing can be added afterwards.
  std::string finish();

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
  std::int64_t bytes_ = 0;
};

}  // namespace firstdraw::store
