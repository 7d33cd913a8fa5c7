#include "serve/access.hpp"

#include <fmt/format.h>
#include <openssl/crypto.h>
#include <openssl/rand.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <tuple>

#include "serve/safe_file.hpp"
#include "store/rfc3339.hpp"
#include "store/sha256.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

constexpr std::size_t most_devices = 200, most_shares = 500;
constexpr std::chrono::minutes seen_step{5};  // last_seen is not written more often

template <std::size_t Size>
std::array<unsigned char, Size> random_bytes() {
  std::array<unsigned char, Size> bytes{};
  if (RAND_bytes(bytes.data(), static_cast<int>(bytes.size())) != 1)
    throw std::runtime_error("the system gives no random numbers");
  return bytes;
}

std::string hex(std::span<const unsigned char> bytes) {
  std::string text;
  for (const unsigned char byte : bytes) text += fmt::format("{:02x}", byte);
  return text;
}

/// Eight digits, each as likely as any.
std::string random_code() {
  constexpr std::uint32_t codes = 100'000'000, whole = UINT32_MAX - UINT32_MAX % codes;
  while (true) {
    const auto bytes = random_bytes<4>();
    const std::uint32_t drawn = (std::uint32_t{bytes[0]} << 24U) | (std::uint32_t{bytes[1]} << 16U) |
                                (std::uint32_t{bytes[2]} << 8U) | bytes[3];
    if (drawn < whole) return fmt::format("{:08}", drawn % codes);
  }
}

/// Takes as long whatever differs.
bool same(std::string_view a, std::string_view b) {
  return a.size() == b.size() && CRYPTO_memcmp(a.data(), b.data(), a.size()) == 0;
}

Moment moment_in(const json& object, const char* key) {
  const auto moment = store::moment_of(object.at(key).get<std::string>());
  if (!moment) throw std::runtime_error(fmt::format("\"{}\" is no time", key));
  return std::chrono::floor<std::chrono::seconds>(*moment);
}

json device_json(const PairedDevice& device) {
  return {{"id", device.id},
          {"name", device.name},
          {"token_sha256", device.token_hash},
          {"paired_at", text_of(device.paired_at)},
          {"last_seen", text_of(device.last_seen)}};
}

json share_json(const ShareLink& share) {
  return {{"id", share.id},
          {"name", share.name},
          {"job", share.job},
          {"token_sha256", share.token_hash},
          {"until", text_of(share.until)}};
}

}  // namespace

std::string random_token() { return hex(random_bytes<32>()); }

std::string text_of(Moment moment) {
  const auto day = std::chrono::floor<std::chrono::days>(moment);
  const std::chrono::year_month_day date(day);
  const std::chrono::hh_mm_ss time(moment - day);
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                     time.hours().count(), time.minutes().count(), time.seconds().count());
}

Access::Access(std::filesystem::path file, std::function<Moment()> clock)
    : file_(std::move(file)), clock_(clock ? std::move(clock) : [] {
        return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
      }) {
  load();
}

void Access::load() {
  std::error_code error;
  if (!std::filesystem::exists(file_, error)) return;
  const auto text = read_whole(file_);
  if (!text) throw std::runtime_error(text.error());
  try {
    const json kept = json::parse(*text);
    for (const json& each : kept.at("devices"))
      devices_.push_back({each.at("id"), each.at("name"), each.at("token_sha256"),
                          moment_in(each, "paired_at"), moment_in(each, "last_seen")});
    for (const json& each : kept.at("shares"))
      shares_.push_back({each.at("id"), each.at("name"), each.at("job"), each.at("token_sha256"),
                         moment_in(each, "until")});
  } catch (const std::exception& why) {
    throw std::runtime_error(fmt::format("{} does not read: {}; move it away to begin without paired devices",
                                         file_.string(), why.what()));
  }
}

Maybe<void> Access::save() {
  json kept{{"devices", json::array()}, {"shares", json::array()}};
  for (const PairedDevice& device : devices_) kept["devices"].push_back(device_json(device));
  for (const ShareLink& share : shares_) kept["shares"].push_back(share_json(share));
  if (const auto written = write_safely(file_, kept.dump(1, ' ', false, json::error_handler_t::replace));
      !written)
    return refuse(Why::failed, "it cannot be kept: " + written.error());
  return {};
}

std::string Access::new_code() {
  const std::lock_guard lock(mutex_);
  code_ = random_code();
  code_until_ = clock_() + code_lives;
  tries_left_ = tries_per_code;
  return code_;
}

Maybe<std::pair<PairedDevice, std::string>> Access::pair(const Pair& asked) {
  const std::lock_guard lock(mutex_);
  const bool alive = !code_.empty() && clock_() < code_until_;
  if (!alive || !same(code_, asked.code)) {
    if (alive && --tries_left_ <= 0) code_.clear();
    return refuse(Why::not_paired, "that is not the code shown on the host, or it is too old",
                  "ask for a new code there", "code");
  }
  if (devices_.size() >= most_devices)
    return refuse(Why::too_many, "too many devices are paired", "take some back on the host");
  code_.clear();
  const std::string token = random_token();
  devices_.push_back({hex(random_bytes<6>()), asked.name, store::sha256_hex(token), clock_(), clock_()});
  if (auto kept = save(); !kept) {
    devices_.pop_back();
    return std::unexpected(std::move(kept.error()));
  }
  return std::pair{devices_.back(), token};
}

std::vector<PairedDevice> Access::devices() const {
  const std::lock_guard lock(mutex_);
  return devices_;
}

Maybe<void> Access::revoke(const std::string& device) {
  const std::lock_guard lock(mutex_);
  if (std::erase_if(devices_, [&](const PairedDevice& each) { return each.id == device; }) == 0)
    return refuse(Why::not_found, "there is no such device");
  return save();
}

std::optional<PairedDevice> Access::device_of(std::string_view token) {
  if (token.empty()) return std::nullopt;
  const std::string hash = store::sha256_hex(token);
  const std::lock_guard lock(mutex_);
  const auto found =
      std::ranges::find_if(devices_, [&](const PairedDevice& each) { return same(each.token_hash, hash); });
  if (found == devices_.end()) return std::nullopt;
  const Moment now = clock_();
  if (now - found->last_seen >= seen_step) {
    found->last_seen = now;
    std::ignore = save();  // a disk that is full does not lock anybody out
  }
  return *found;
}

Maybe<std::pair<ShareLink, std::string>> Access::share(const std::string& job, const NewShare& asked) {
  const std::lock_guard lock(mutex_);
  std::erase_if(shares_, [now = clock_()](const ShareLink& each) { return each.until <= now; });
  if (shares_.size() >= most_shares)
    return refuse(Why::too_many, "there are too many links", "end some of them");
  const std::string token = random_token();
  shares_.push_back({hex(random_bytes<6>()), asked.name, job, store::sha256_hex(token),
                     clock_() + std::chrono::days{asked.days}});
  if (auto kept = save(); !kept) {
    shares_.pop_back();
    return std::unexpected(std::move(kept.error()));
  }
  return std::pair{shares_.back(), token};
}

std::vector<ShareLink> Access::shares_of(const std::string& job) const {
  const std::lock_guard lock(mutex_);
  std::vector<ShareLink> found;
  for (const ShareLink& share : shares_)
    if (share.job == job && clock_() < share.until) found.push_back(share);
  return found;
}

Maybe<void> Access::revoke_share(const std::string& job, const std::string& share) {
  const std::lock_guard lock(mutex_);
  if (std::erase_if(shares_, [&](const ShareLink& each) { return each.id == share && each.job == job; }) == 0)
    return refuse(Why::not_found, "there is no such link");
  return save();
}

std::optional<ShareLink> Access::share_of(std::string_view token) const {
  if (token.empty()) return std::nullopt;
  const std::string hash = store::sha256_hex(token);
  const std::lock_guard lock(mutex_);
  for (const ShareLink& share : shares_)
    if (same(share.token_hash, hash) && clock_() < share.until) return share;
  return std::nullopt;
}

}  // namespace firstdraw::serve
