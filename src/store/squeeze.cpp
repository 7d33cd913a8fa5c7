#include "store/squeeze.hpp"

#include <zstd.h>

#include <memory>
#include <stdexcept>

namespace firstdraw::store {

namespace {

struct Release {
  void operator()(ZSTD_CCtx* context) const { ZSTD_freeCCtx(context); }
  void operator()(ZSTD_DCtx* context) const { ZSTD_freeDCtx(context); }
};

std::unique_ptr<ZSTD_CCtx, Release> new_packer(int level, int shortest_match) {
  std::unique_ptr<ZSTD_CCtx, Release> made(ZSTD_createCCtx());
  if (!made) throw std::bad_alloc();
  ZSTD_CCtx_setParameter(made.get(), ZSTD_c_compressionLevel, level);
  ZSTD_CCtx_setParameter(made.get(), ZSTD_c_minMatch, shortest_match);
  ZSTD_CCtx_setParameter(made.get(), ZSTD_c_checksumFlag, 1);
  return made;
}

/// Kept, as setting one up takes longer than a day of readings. In noise short repetitions are chance, and
/// naming them costs more than they save: without them the noise is left to the entropy coder.
ZSTD_CCtx* packer_of_noise() {
  thread_local const auto context = new_packer(1, 7);
  return context.get();
}
ZSTD_CCtx* packer_of_patterns() {
  thread_local const auto context = new_packer(6, 3);
  return context.get();
}

ZSTD_DCtx* unpacker() {
  thread_local const std::unique_ptr<ZSTD_DCtx, Release> context(ZSTD_createDCtx());
  if (!context) throw std::bad_alloc();
  return context.get();
}

std::string squeezed_by(ZSTD_CCtx* packer, std::string_view bytes) {
  std::string out(ZSTD_compressBound(bytes.size()), '\0');
  const std::size_t size = ZSTD_compress2(packer, out.data(), out.size(), bytes.data(), bytes.size());
  if (ZSTD_isError(size) != 0) throw std::runtime_error(ZSTD_getErrorName(size));
  out.resize(size);
  return out;
}

}  // namespace

std::string squeezed(std::string_view bytes) {
  std::string quick = squeezed_by(packer_of_noise(), bytes);
  if (quick.size() * 4 > bytes.size()) return quick;
  std::string thorough = squeezed_by(packer_of_patterns(), bytes);
  return thorough.size() < quick.size() ? thorough : quick;
}

std::optional<std::string> unsqueezed(std::string_view frame, std::size_t most_bytes) {
  const unsigned long long size = ZSTD_getFrameContentSize(frame.data(), frame.size());
  if (size == ZSTD_CONTENTSIZE_ERROR || size == ZSTD_CONTENTSIZE_UNKNOWN || size > most_bytes)
    return std::nullopt;
  const std::size_t whole = ZSTD_findFrameCompressedSize(frame.data(), frame.size());
  if (ZSTD_isError(whole) != 0 || whole != frame.size()) return std::nullopt;
  std::string out(size, '\0');
  const std::size_t got = ZSTD_decompressDCtx(unpacker(), out.data(), out.size(), frame.data(), frame.size());
  if (ZSTD_isError(got) != 0 || got != size) return std::nullopt;
  return out;
}

}  // namespace firstdraw::store
