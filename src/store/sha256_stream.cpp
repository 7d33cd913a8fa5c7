#include "store/sha256_stream.hpp"

#include <openssl/evp.h>

#include <array>
#include <stdexcept>

#include "store/hex.hpp"

namespace firstdraw::store {

namespace {

struct Release {
  void operator()(EVP_MD_CTX* context) const { EVP_MD_CTX_free(context); }
};
void check(int code) {
  if (code != 1) throw std::runtime_error("SHA-256 is not available");
}

}  // namespace

struct Sha256Stream::Inside {
  std::unique_ptr<EVP_MD_CTX, Release> context{EVP_MD_CTX_new()};
};

Sha256Stream::Sha256Stream() : inside_(std::make_unique<Inside>()) {
  check(EVP_DigestInit_ex(inside_->context.get(), EVP_sha256(), nullptr));
}
Sha256Stream::~Sha256Stream() = default;

void Sha256Stream::add(std::string_view bytes) {
  check(EVP_DigestUpdate(inside_->context.get(), bytes.data(), bytes.size()));
  bytes_ += static_cast<std::int64_t>(bytes.size());
}

std::string Sha256Stream::finish() {
  std::string digest(EVP_MAX_MD_SIZE, '\0');
  unsigned int size = 0;
  std::array<unsigned char, EVP_MAX_MD_SIZE> raw{};
  check(EVP_DigestFinal_ex(inside_->context.get(), raw.data(), &size));
  for (std::size_t i = 0; i < size; ++i) digest[i] = static_cast<char>(raw.at(i));
  digest.resize(size);
  return to_hex(digest);
}

}  // namespace firstdraw::store
