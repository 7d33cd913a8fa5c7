// A logger's file, read in pieces and hashed on the way: it may be larger than memory.
#pragma once

#include <expected>
#include <fstream>
#include <string>

#include "cli/context.hpp"
#include "store/sha256_stream.hpp"
#include "watch/log_rows.hpp"

namespace firstdraw::cli {

class LogFile {
 public:
  explicit LogFile(const std::string& path);

  /// Why it cannot be read; empty: it can.
  const std::string& trouble() const { return trouble_; }
  /// Up to `size` bytes of its start; reading begins there afterwards.
  std::string start(std::size_t size);
  /// As watch::import_log wants it; the file must stay where it is.
  watch::ReadBytes reader();
  /// Reads what is left. Empty: the file could not be read to its end.
  std::string sha256();

 private:
  std::size_t read(char* buffer, std::size_t size);

  std::ifstream file_;
  std::string trouble_;
  store::Sha256Stream hash_;
};

}  // namespace firstdraw::cli
