// Who may come in from the network: pairing by a code, devices with a token each, links that show one job.
// Tokens are kept as hashes in one private file; the tokens themselves are nowhere but on the devices.
#pragma once

#include <chrono>
#include <filesystem>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "serve/answer.hpp"
#include "serve/bodies.hpp"

namespace firstdraw::serve {

using Moment = std::chrono::sys_seconds;

struct PairedDevice {
  std::string id, name, token_hash;
  Moment paired_at{}, last_seen{};
};
struct ShareLink {
  std::string id, name, job, token_hash;
  Moment until{};
};

class Access {
 public:
  static constexpr std::chrono::seconds code_lives{600};
  static constexpr int tries_per_code = 5;

  /// Reads what is kept; a file that does not read is an error, never an empty list.
  Access(std::filesystem::path file, std::function<Moment()> clock = {});

  /// A new code of eight digits; the one before is good no more.
  std::string new_code();
  /// The token of a new device: the code was right, not too old, and is used up now. A code dies after some
  /// wrong tries.
  Maybe<std::pair<PairedDevice, std::string>> pair(const Pair& asked);
  std::vector<PairedDevice> devices() const;
  Maybe<void> revoke(const std::string& device);
  std::optional<PairedDevice> device_of(std::string_view token);

  Maybe<std::pair<ShareLink, std::string>> share(const std::string& job, const NewShare& asked);
  std::vector<ShareLink> shares_of(const std::string& job) const;
  Maybe<void> revoke_share(const std::string& job, const std::string& share);
  std::optional<ShareLink> share_of(std::string_view token) const;

 private:
  void load();
  Maybe<void> save();

  const std::filesystem::path file_;
  const std::function<Moment()> clock_;
  mutable std::mutex mutex_;
  std::vector<PairedDevice> devices_;
  std::vector<ShareLink> shares_;
  std::string code_;
  Moment code_until_{};
  int tries_left_ = 0;
};

/// 256 random bits of the system, in hexadecimal.
std::string random_token();
/// "2026-11-29T14:05:00Z".
std::string text_of(Moment moment);

}  // namespace firstdraw::serve
