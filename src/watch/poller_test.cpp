#include "watch/poller.hpp"

#include <arpa/inet.h>
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/socket.h>

#include <chrono>
#include <fstream>
#include <map>
#include <mutex>
#include <set>
#include <thread>

#include "watch/test_peer.hpp"

namespace firstdraw::watch {
namespace {

using Event = PollEvent::Kind;
using std::chrono::steady_clock;

std::int64_t clock_ms() {
  return std::chrono::duration_cast<std::chrono::milliseconds>(
             std::chrono::system_clock::now().time_since_epoch())
      .count();
}

constexpr double patient_s = 3;  // on a busy machine the peer may need long

Device device_at(const std::string& address, int unit, double timeout_s = patient_s) {
  Device device;
  device.name = fmt::format("unit {}", unit);
  device.unit = unit;
  device.timeout_s = timeout_s;
  if (address.starts_with("/")) {
    device.serial = address;
    device.parity = 'N';
    device.stop_bits = 2;
  } else {
    device.host = address.substr(0, address.find(':'));
    device.port = std::stoi(address.substr(address.find(':') + 1));
  }
  return device;
}

void add(Device& device, const std::string& series, int address, RegisterType type,
         RegisterTable table = RegisterTable::holding, bool high_word_first = true,
         bool high_byte_first = true) {
  RegisterValue value;
  value.series = series;
  value.quantity = type == RegisterType::bit ? "on" : "current";
  value.address = address;
  value.type = type;
  value.table = table;
  value.high_word_first = high_word_first;
  value.high_byte_first = high_byte_first;
  device.values.push_back(value);
}

Device with_first_register(const std::string& address, int unit, double timeout_s = patient_s) {
  Device device = device_at(address, unit, timeout_s);
  add(device, fmt::format("u{}", unit), 0, RegisterType::u16);
  return device;
}

/// What a run of poll() did.
struct Seen {
  std::vector<Polled> readings;
  std::vector<PollEvent> events;
  PollCounts counts;
  std::int64_t of(const std::string& series) const {
    return std::ranges::count(readings, series, &Polled::series);
  }
  std::optional<double> value(const std::string& series) const {
    const auto at = std::ranges::find(readings, series, &Polled::series);
    return at == readings.end() ? std::nullopt : std::optional(at->sample.value);
  }
  std::int64_t times(Event kind, const std::string& device_or_series = "") const {
    return std::ranges::count_if(events, [&](const PollEvent& event) {
      return event.kind == kind && (device_or_series.empty() || event.device == device_or_series ||
                                    event.series == device_or_series);
    });
  }
  std::string said() const {
    std::string all;
    for (const auto& event : events)
      all += fmt::format("{} {} {}: {}\n", name_of(event.kind), event.device, event.series, event.said);
    return all;
  }
};

PollOptions options_into(Seen& seen, std::int64_t rounds) {
  PollOptions options;
  options.now_ms = clock_ms;
  options.wait = [](double seconds) {
    std::this_thread::sleep_for(std::chrono::duration<double>(seconds));
    return true;
  };
  options.event = [&seen](const PollEvent& event) { seen.events.push_back(event); };
  options.sink = [&seen](const std::vector<Polled>& readings) -> std::expected<void, std::string> {
    seen.readings.insert(seen.readings.end(), readings.begin(), readings.end());
    return {};
  };
  options.rounds = rounds;
  options.first_at_once = true;
  return options;
}

Seen run(const std::vector<Device>& devices, std::int64_t rounds = 1, double every_s = 0.2) {
  Seen seen;
  seen.counts = poll({every_s, devices, {}}, options_into(seen, rounds));
  return seen;
}

void expect_only_reading(const Peer& peer) {
  const auto asked = peer.asked();
  EXPECT_FALSE(asked.empty());
  for (const auto& one : asked) {
    EXPECT_GE(one.function, 1) << one.frame;
    EXPECT_LE(one.function, 4) << one.frame;
  }
}

Device everything(const std::string& address) {
  using enum RegisterType;
  Device device = device_at(address, 1);
  add(device, "u16", 0, u16);
  add(device, "i16", 1, i16);
  add(device, "abcd", 2, f32);
  add(device, "cdab", 4, f32, RegisterTable::holding, false, true);
  add(device, "badc", 6, f32, RegisterTable::holding, true, false);
  add(device, "dcba", 8, f32, RegisterTable::holding, false, false);
  add(device, "u32", 10, u32);
  add(device, "i32", 12, i32);
  add(device, "i64", 14, i64);
  add(device, "u64", 18, u64);
  add(device, "f64", 22, f64);
  add(device, "bit 1", 26, bit);
  device.values.back().bit = 1;
  add(device, "bit 2", 26, bit);
  device.values.back().bit = 2;
  add(device, "nan", 27, f32);
  add(device, "beyond", 29, u16);
  device.values.back().most = 100;
  add(device, "behind the hole", 38, u16);
  add(device, "far", 399, u16);
  add(device, "input", 0, u16, RegisterTable::input);
  add(device, "coil 3", 3, bit, RegisterTable::coil);
  add(device, "coil 4", 4, bit, RegisterTable::coil);
  add(device, "discrete 5", 5, bit, RegisterTable::discrete);
  return device;
}

void expect_everything(const Seen& seen) {
  const std::map<std::string, double> expected{
      {"u16", 1234},    {"i16", -200},           {"abcd", 123456},    {"cdab", 123456},
      {"badc", 123456}, {"dcba", 123456},        {"u32", 123456},     {"i32", -123456},
      {"f64", 55.5},    {"i64", -1234567890123}, {"u64", 9876543210}, {"bit 1", 1},
      {"bit 2", 0},     {"behind the hole", 77}, {"far", 299},        {"input", 321},
      {"coil 3", 1},    {"coil 4", 0},           {"discrete 5", 1}};
  for (const auto& [series, value] : expected)
    EXPECT_EQ(seen.value(series), value) << series << "\n" << seen.said();
  EXPECT_EQ(seen.of("nan") + seen.of("beyond"), 0);
  EXPECT_EQ(seen.times(Event::invalid), 2) << seen.said();  // said once, not every round
  EXPECT_EQ(seen.readings.size(), expected.size() * 2);
}

TEST(PollerOnNetwork, ReadsEveryTypeTableAndOrderAndOnlyReads) {
  const Peer peer;
  const auto before = clock_ms();
  const Seen seen = run({everything(peer.address())}, 2, 1);
  expect_everything(seen);
  EXPECT_EQ(seen.counts.failures, 0) << seen.said();
  for (const Polled& one : seen.readings) {
    EXPECT_GE(one.sample.at_ms, before);
    EXPECT_LE(one.sample.at_ms, clock_ms());
  }
  expect_only_reading(peer);
  std::set<int> functions;
  for (const auto& one : peer.asked()) functions.insert(one.function);
  EXPECT_EQ(functions, (std::set<int>{1, 2, 3, 4}));
}

TEST(PollerOnNetwork, BadDevicesAreNamedAndTheOthersGoOn) {
  const Peer peer({"--late", "0.8"});
  std::vector<Device> devices;
  for (const int unit : {4, 5, 99}) devices.push_back(with_first_register(peer.address(), unit, 0.3));
  for (const int unit : {1, 6, 10, 8, 9, 2}) devices.push_back(with_first_register(peer.address(), unit));
  add(devices[3], "absent", 60000, RegisterType::u16);
  const Seen seen = run(devices, 2, 0.3);
  for (const int unit : {4, 5, 6, 10, 99})
    EXPECT_EQ(seen.times(Event::no_answer, fmt::format("unit {}", unit)), 1) << unit << "\n" << seen.said();
  EXPECT_EQ(seen.times(Event::exception, "unit 8"), 1) << seen.said();
  EXPECT_EQ(seen.times(Event::exception, "absent"), 1) << seen.said();
  EXPECT_EQ(seen.value("u1"), 1234);
  EXPECT_EQ(seen.value("u2"), 1235);
  EXPECT_EQ(seen.value("u9"), 1234 + 8) << "busy at first, then good\n" << seen.said();
  for (const auto* none : {"u4", "u5", "u6", "u10", "u99", "u8", "absent"})
    EXPECT_EQ(seen.of(none), 0) << none;
  EXPECT_GE(seen.counts.failures, 7);
  expect_only_reading(peer);
}

TEST(PollerOnNetwork, AnAnswerThatComesTooLateIsNotTakenForTheNext) {
  const Peer peer({"--late", "0.4"});
  Device late = device_at(peer.address(), 3, 0.25);
  add(late, "late", 0, RegisterType::u16);
  Device good = device_at(peer.address(), 1, 2);
  add(good, "good", 38, RegisterType::u16);
  const Seen seen = run({late, good}, 3, 0.5);
  EXPECT_EQ(seen.of("late"), 0);
  EXPECT_GE(seen.of("good"), 1) << seen.said();
  for (const Polled& one : seen.readings) EXPECT_EQ(one.sample.value, 77);
}

TEST(PollerOnNetwork, ADeviceThatIsKilledComesBack) {
  Peer peer;
  Seen seen;
  const std::int64_t rounds = 60;
  PollOptions options = options_into(seen, rounds);
  int good_before = 0;
  options.sink = [&](const std::vector<Polled>& readings) -> std::expected<void, std::string> {
    seen.readings.insert(seen.readings.end(), readings.begin(), readings.end());
    return {};
  };
  enum class Step { first, dead, back } step = Step::first;
  options.wait = [&](double seconds) {
    if (step == Step::first && seen.readings.size() >= 3) {
      good_before = static_cast<int>(seen.readings.size());
      peer.kill();
      step = Step::dead;
    } else if (step == Step::dead && seen.times(Event::lost) > 0) {
      peer.start_again();
      step = Step::back;
    } else if (step == Step::back && static_cast<int>(seen.readings.size()) > good_before + 2) {
      return false;
    }
    std::this_thread::sleep_for(std::chrono::duration<double>(seconds));
    return true;
  };
  seen.counts = poll({0.1, {with_first_register(peer.address(), 1)}, {}}, options);
  EXPECT_EQ(step, Step::back);
  EXPECT_GT(static_cast<int>(seen.readings.size()), good_before + 2) << seen.said();
  EXPECT_EQ(seen.times(Event::lost), 1) << seen.said();
  EXPECT_EQ(seen.times(Event::connected), 2) << seen.said();
  EXPECT_EQ(seen.counts.reconnects, 1);
  expect_only_reading(peer);
}

/// A socket that takes connections and never says a word.
class Mute {
 public:
  Mute() {
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    socket_ = ::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
    socklen_t size = sizeof address;
    if (::bind(socket_, reinterpret_cast<sockaddr*>(&address), size) != 0 || ::listen(socket_, 16) != 0 ||
        ::getsockname(socket_, reinterpret_cast<sockaddr*>(&address), &size) != 0)
      throw std::runtime_error("no socket");
    address_ = fmt::format("127.0.0.1:{}", ntohs(address.sin_port));
  }
  ~Mute() { ::close(socket_); }
  Mute(const Mute&) = delete;
  Mute& operator=(const Mute&) = delete;
  const std::string& address() const { return address_; }

 private:
  int socket_ = -1;
  std::string address_;
};

TEST(PollerOnNetwork, ADeviceThatIsDownDoesNotDelayThoseOfOtherLines) {
  const Peer peer;
  const Mute mute;
  const Seen seen =
      run({with_first_register(mute.address(), 1, 1.2), with_first_register(peer.address(), 2)}, 6, 0.4);
  EXPECT_GE(seen.of("u2"), 4) << seen.said();  // while the other kept its line for 2.4 s
  EXPECT_GE(seen.times(Event::late), 1);
  EXPECT_EQ(seen.times(Event::no_answer, "unit 1"), 1) << seen.said();
}

TEST(PollerOnNetwork, StopsAtOnceThoughADeviceIsBeingWaitedFor) {
  const Mute mute;
  Seen seen;
  PollOptions options = options_into(seen, -1);
  const auto begin = steady_clock::now();
  options.wait = [&](double seconds) {
    std::this_thread::sleep_for(std::chrono::duration<double>(std::min(seconds, 0.05)));
    return steady_clock::now() - begin < std::chrono::milliseconds(200);
  };
  poll({0.1, {with_first_register(mute.address(), 1, 20)}, {}}, options);
  EXPECT_LT(steady_clock::now() - begin, std::chrono::milliseconds(1500));
}

TEST(PollerOnNetwork, NobodyThereIsLostOnceAndTriedAgain) {
  std::string nowhere;
  {
    const Mute closed;
    nowhere = closed.address();
  }
  const Seen seen =
      run({with_first_register(nowhere, 1), with_first_register("192.0.2.1.invalid:1", 2)}, 3, 0.1);
  EXPECT_EQ(seen.times(Event::lost), 2) << seen.said();
  EXPECT_TRUE(seen.readings.empty());
}

TEST(PollerOnSerialLine, ReadsEveryTypeTableAndOrderAndOnlyReads) {
  const Peer peer({"--serial"});
  Device second = with_first_register(peer.address(), 2);
  const Seen seen = run({everything(peer.address()), second}, 2, 1);
  EXPECT_EQ(seen.of("u2"), 2) << seen.said();
  Seen first = seen;
  std::erase_if(first.readings, [](const Polled& one) { return one.series == "u2"; });
  expect_everything(first);
  expect_only_reading(peer);
}

TEST(PollerOnSerialLine, BadUnitsAreNamedAndTheOthersOfTheLineGoOn) {
  const Peer peer({"--serial", "--late", "0.35"});
  std::vector<Device> devices;
  for (const int unit : {4, 5, 6, 7, 3, 99})
    devices.push_back(with_first_register(peer.address(), unit, 0.2));
  for (const int unit : {1, 2}) devices.push_back(with_first_register(peer.address(), unit));
  const Seen seen = run(devices, 5, 1);
  for (const int unit : {4, 5, 6, 7, 99}) {
    EXPECT_EQ(seen.times(Event::no_answer, fmt::format("unit {}", unit)), 1) << unit << "\n" << seen.said();
    EXPECT_EQ(seen.of(fmt::format("u{}", unit)), 0) << unit;
  }
  EXPECT_GE(seen.of("u1"), 2) << seen.said();
  EXPECT_GE(seen.of("u2"), 2) << seen.said();
  for (const Polled& one : seen.readings) {
    if (one.series == "u3") continue;  // late by turns: its own value, whenever it comes
    EXPECT_EQ(one.sample.value, one.series == "u1" ? 1234 : 1235) << one.series;
  }
  expect_only_reading(peer);
}

TEST(PollerOnSerialLine, ALineThatIsNotThereIsLost) {
  const Seen seen =
      run({with_first_register("/dev/there-is-no-such-line", 1), with_first_register("/etc/hostname", 2)});
  EXPECT_EQ(seen.times(Event::lost), 2) << seen.said();
}

/// A clock that only `wait` moves, for what needs no device.
struct FakeTime {
  std::int64_t ms = 1'000'003;
  std::vector<std::int64_t> rounds;
};

TEST(PollerRounds, BeginOnTheGridOfTheClock) {
  Seen seen;
  PollOptions options = options_into(seen, 3);
  options.first_at_once = false;
  FakeTime time;
  options.now_ms = [&] { return time.ms; };
  options.wait = [&](double seconds) {
    if (seconds > 0) {
      time.ms += static_cast<std::int64_t>(seconds * 1000 + 0.5);
      time.rounds.push_back(time.ms);
    } else {
      time.ms += 1;
    }
    return true;
  };
  poll({60, {}, {}}, options);
  EXPECT_THAT(time.rounds, testing::ElementsAre(1'020'000, 1'080'000, 1'140'000));
}

TEST(PollerRounds, AreSkippedWhenTheSinkTakesLongNotPiledUp) {
  const Peer peer;
  Seen seen;
  PollOptions options = options_into(seen, 4);
  std::int64_t shift = 0;
  options.now_ms = [&] { return clock_ms() + shift; };
  options.sink = [&](const std::vector<Polled>&) -> std::expected<void, std::string> {
    shift += 5'000;  // a store that takes five seconds, five rounds of the grid
    return {};
  };
  options.wait = [&](double seconds) {
    shift += static_cast<std::int64_t>(seconds * 1000 + 0.5);
    return true;
  };
  const PollCounts counts = poll({1, {with_first_register(peer.address(), 1)}, {}}, options);
  EXPECT_EQ(counts.rounds, 4);
  EXPECT_GE(counts.skipped, 12);
  EXPECT_LE(counts.skipped, 18);
}

TEST(PollerSink, WhatItRefusesIsKeptAndOfferedAgain) {
  const Peer peer;
  Seen seen;
  PollOptions options = options_into(seen, 6);
  int offers = 0;
  options.sink = [&](const std::vector<Polled>& readings) -> std::expected<void, std::string> {
    if (++offers <= 3) return std::unexpected("the disk is full");
    seen.readings.insert(seen.readings.end(), readings.begin(), readings.end());
    return {};
  };
  seen.counts = poll({0.2, {with_first_register(peer.address(), 1)}, {}}, options);
  EXPECT_EQ(seen.counts.readings, static_cast<std::int64_t>(seen.readings.size())) << "none twice, none lost";
  EXPECT_GE(seen.counts.readings, 5);
  EXPECT_EQ(seen.times(Event::sink_failed), 1);
  EXPECT_EQ(seen.times(Event::sink_back), 1);
  EXPECT_EQ(seen.counts.dropped, 0);
}

TEST(PollerSink, KeepsTheNewestAndSaysWhatIsLost) {
  const Peer peer;
  Seen seen;
  PollOptions options = options_into(seen, 6);
  options.keep = 2;
  options.sink = [&](const std::vector<Polled>& readings) -> std::expected<void, std::string> {
    seen.readings = readings;
    return std::unexpected("no store");
  };
  seen.counts = poll({0.2, {with_first_register(peer.address(), 1)}, {}}, options);
  EXPECT_LE(seen.readings.size(), 3U);
  EXPECT_EQ(seen.counts.dropped, seen.counts.readings) << "the end came and nothing took them";
  EXPECT_GE(seen.times(Event::dropped), 2);
}

TEST(OnlyReading, NoCallOfTheRoomCanWriteToADevice) {
  const std::vector<std::string> forbidden{"modbus_write", "modbus_mask_write",   "modbus_send_raw",
                                           "modbus_reply", "modbus_report_slave", "modbus_receive"};
  int files = 0, reads = 0;
  for (const auto& entry : std::filesystem::directory_iterator(places::sources() + "/src/watch")) {
    const auto name = entry.path().filename().string();
    if (name.ends_with("_test.cpp") || name.starts_with("test_")) continue;
    std::ifstream file(entry.path());
    const std::string text(std::istreambuf_iterator<char>(file), {});
    for (const auto& call : forbidden) EXPECT_EQ(text.find(call), std::string::npos) << name << ": " << call;
    ++files;
    for (std::size_t at = 0; (at = text.find("modbus_read_", at)) != std::string::npos; ++at) ++reads;
  }
  EXPECT_GT(files, 10);
  EXPECT_EQ(reads, 4);  // function codes 1 to 4, each at one place
}

}  // namespace
}  // namespace firstdraw::watch
