#include "watch/poll_connection.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <modbus/modbus.h>
#include <netdb.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <poll.h>
#include <sys/select.h>
#include <sys/socket.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <chrono>
#include <cmath>
#include <cstring>
#include <memory>

#include "watch/register_overlap.hpp"

namespace firstdraw::watch {
namespace {

using Kind = PollFailure::Kind;
using Clock = std::chrono::steady_clock;

std::unexpected<PollFailure> failed(Kind kind, std::string said) {
  return std::unexpected(PollFailure{kind, std::move(said)});
}

struct Exception {
  int code = 0;
  Kind kind{};
  const char* said;
};
constexpr std::array exceptions{
    Exception{1, Kind::refused, "the device does not know this way of reading (exception 1)"},
    Exception{2, Kind::refused, "the device has no such address (exception 2)"},
    Exception{3, Kind::refused, "the device does not give that many registers (exception 3)"},
    Exception{4, Kind::busy, "the device reports a failure of its own (exception 4)"},
    Exception{5, Kind::busy, "the device needs longer (exception 5)"},
    Exception{6, Kind::busy, "the device is busy (exception 6)"},
    Exception{7, Kind::refused, "the device refuses (exception 7)"},
    Exception{8, Kind::busy, "the device reports a parity error in its memory (exception 8)"},
    Exception{10, Kind::busy, "the gateway has no way to the device (exception 10)"},
    Exception{11, Kind::busy, "the gateway gets no answer from the device (exception 11)"}};

PollFailure reason(int error, double timeout_s) {
  for (const Exception& exception : exceptions)
    if (error == MODBUS_ENOBASE + exception.code) return {exception.kind, exception.said};
  switch (error) {
    case ETIMEDOUT:
    case EAGAIN:
    case EINPROGRESS:
      return {Kind::no_answer, fmt::format("no whole answer within {} s", timeout_s)};
    case EMBBADCRC:
      return {Kind::no_answer, "the answer's check sum is wrong: noise, or two devices talk"};
    case EMBBADSLAVE:
      return {Kind::no_answer, "another unit answered"};
    case EMBBADDATA:
    case EMBBADEXC:
    case EMBUNKEXC:
    case EMBMDATA:
      return {Kind::no_answer, "the answer is not one to this question"};
    default:
      return {Kind::lost, std::strerror(error)};
  }
}

bool set_timeout(modbus_t* context, double timeout_s) {
  const auto whole = static_cast<std::uint32_t>(timeout_s);
  const auto rest = static_cast<std::uint32_t>((timeout_s - whole) * 1e6);
  // Without a time-out between bytes the first one is for the whole answer.
  return modbus_set_response_timeout(context, whole, rest) == 0 &&
         modbus_set_byte_timeout(context, 0, 0) == 0;
}

int read_registers(modbus_t* context, const PollRequest& request, std::vector<std::uint16_t>& words) {
  words.resize(static_cast<std::size_t>(request.count));
  return request.table == RegisterTable::holding
             ? modbus_read_registers(context, request.first, request.count, words.data())
             : modbus_read_input_registers(context, request.first, request.count, words.data());
}

int read_bits(modbus_t* context, const PollRequest& request, std::vector<std::uint16_t>& words) {
  std::vector<std::uint8_t> bits(static_cast<std::size_t>(request.count));
  const int got = request.table == RegisterTable::coil
                      ? modbus_read_bits(context, request.first, request.count, bits.data())
                      : modbus_read_input_bits(context, request.first, request.count, bits.data());
  words.assign(bits.begin(), bits.end());
  return got;
}

/// Waits until the socket is connected, the time is over or `wake` ends it; 0 or an error number.
int finish_connecting(int socket, int wake, double timeout_s) {
  std::array<pollfd, 2> both{{{socket, POLLOUT, 0}, {wake, POLLIN, 0}}};
  const int ready = ::poll(both.data(), both.size(), static_cast<int>(std::ceil(timeout_s * 1000)));
  if (ready <= 0) return ready == 0 ? ETIMEDOUT : errno;
  if (both[1].revents != 0) return ECANCELED;
  int error = 0;
  socklen_t size = sizeof error;
  if (::getsockopt(socket, SOL_SOCKET, SO_ERROR, &error, &size) != 0) return errno;
  return error;
}

/// A connected socket, or less than zero: minus an error number.
int connect_to(const addrinfo& address, int wake, double timeout_s) {
  const int socket =
      ::socket(address.ai_family, SOCK_STREAM | SOCK_NONBLOCK | SOCK_CLOEXEC, address.ai_protocol);
  if (socket < 0) return -errno;
  int error = ::connect(socket, address.ai_addr, address.ai_addrlen) == 0 ? 0 : errno;
  if (error == EINPROGRESS) error = finish_connecting(socket, wake, timeout_s);
  if (error == 0 && socket >= FD_SETSIZE) error = EMFILE;  // the library waits with select()
  const int yes = 1;
  ::setsockopt(socket, IPPROTO_TCP, TCP_NODELAY, &yes, sizeof yes);
  if (error == 0) return socket;
  ::close(socket);
  return -error;
}

}  // namespace

PollConnection::PollConnection(const Device& device) : line_(device) {
  line_.values.clear();
  std::array<int, 2> ends{-1, -1};
  if (::pipe2(ends.data(), O_CLOEXEC | O_NONBLOCK) == 0) {
    wake_read_ = ends[0];
    wake_write_ = ends[1];
  }
}

PollConnection::~PollConnection() {
  close();
  for (const int end : {wake_read_, wake_write_})
    if (end >= 0) ::close(end);
}

void PollConnection::keep(modbus_t* context, int descriptor) {
  const std::lock_guard lock(mutex_);
  context_ = context;
  descriptor_ = descriptor;
}

void PollConnection::close() {
  modbus_t* context = context_;
  keep(nullptr, -1);
  if (!context) return;
  modbus_close(context);
  modbus_free(context);
}

void PollConnection::stop() {
  stopped_ = true;
  const char wake = 0;
  if (wake_write_ >= 0 && ::write(wake_write_, &wake, 1) < 0) return;  // full: it is awake
  const std::lock_guard lock(mutex_);
  if (descriptor_ >= 0 && line_.serial.empty()) ::shutdown(descriptor_, SHUT_RDWR);
}

std::expected<void, PollFailure> PollConnection::open() {
  if (is_open()) return {};
  if (stopped_) return failed(Kind::lost, "stopped");
  auto opened = line_.serial.empty() ? open_tcp() : open_serial();
  if (opened && stopped_) {  // stop() may have come before there was anything to shut down
    close();
    return failed(Kind::lost, "stopped");
  }
  return opened;
}

std::expected<int, PollFailure> PollConnection::connected_socket() const {
  addrinfo wanted{};
  wanted.ai_family = AF_UNSPEC;
  wanted.ai_socktype = SOCK_STREAM;
  wanted.ai_flags = AI_NUMERICSERV;
  addrinfo* found = nullptr;
  const int looked_up =
      ::getaddrinfo(line_.host.c_str(), std::to_string(line_.port).c_str(), &wanted, &found);
  if (looked_up != 0)
    return failed(Kind::lost, fmt::format("{}: {}", line_of(line_), ::gai_strerror(looked_up)));
  const std::unique_ptr<addrinfo, void (*)(addrinfo*)> all(found, ::freeaddrinfo);
  int last = -EHOSTUNREACH;
  for (const addrinfo* one = found; one && last < 0 && !stopped_; one = one->ai_next)
    last = connect_to(*one, wake_read_, line_.timeout_s);
  if (last >= 0) return last;
  return failed(Kind::lost, fmt::format("{}: {}", line_of(line_), std::strerror(-last)));
}

std::expected<void, PollFailure> PollConnection::open_tcp() {
  const auto socket = connected_socket();
  if (!socket) return std::unexpected(socket.error());
  modbus_t* context = modbus_new_tcp("127.0.0.1", line_.port);  // its address is never used
  if (!context || modbus_set_socket(context, *socket) != 0) {
    ::close(*socket);
    if (context) modbus_free(context);
    return failed(Kind::lost, std::strerror(ENOMEM));
  }
  keep(context, *socket);
  return {};
}

std::expected<void, PollFailure> PollConnection::open_serial() {
  modbus_t* context =
      modbus_new_rtu(line_.serial.c_str(), line_.baud, line_.parity, line_.data_bits, line_.stop_bits);
  if (!context) return failed(Kind::lost, fmt::format("{}: {}", line_.serial, std::strerror(errno)));
  if (modbus_connect(context) != 0) {
    const int error = errno;
    modbus_free(context);
    return failed(Kind::lost, fmt::format("{}: {}", line_.serial, std::strerror(error)));
  }
  const int descriptor = modbus_get_socket(context);
  if (descriptor >= FD_SETSIZE) {
    modbus_close(context);
    modbus_free(context);
    return failed(Kind::lost, std::strerror(EMFILE));
  }
  keep(context, descriptor);
  return {};
}

void PollConnection::let_silence_come(double timeout_s) const {
  constexpr int silence_ms = 50;
  const auto end = Clock::now() + std::chrono::duration<double>(timeout_s);
  const int descriptor = modbus_get_socket(context_);
  std::array<char, 512> thrown_away{};
  while (Clock::now() < end && !stopped_) {
    std::array<pollfd, 2> both{{{descriptor, POLLIN, 0}, {wake_read_, POLLIN, 0}}};
    if (::poll(both.data(), both.size(), silence_ms) <= 0 || both[0].revents != POLLIN) return;
    if (::read(descriptor, thrown_away.data(), thrown_away.size()) <= 0) return;
  }
}

std::expected<std::vector<std::uint16_t>, PollFailure> PollConnection::read(const Device& device,
                                                                            const PollRequest& request) {
  if (!is_open() || stopped_) return failed(Kind::lost, "not connected");
  std::vector<std::uint16_t> words;
  const bool bits = request.table == RegisterTable::coil || request.table == RegisterTable::discrete;
  int got = -1;
  errno = EINVAL;
  if (modbus_set_slave(context_, device.unit) == 0 && set_timeout(context_, device.timeout_s)) {
    modbus_flush(context_);
    errno = 0;
    got = bits ? read_bits(context_, request, words) : read_registers(context_, request, words);
  }
  if (got == request.count) return words;
  PollFailure failure = reason(got < 0 ? errno : EMBBADDATA, device.timeout_s);
  if (failure.kind == Kind::lost || (failure.kind == Kind::no_answer && line_.serial.empty())) {
    close();
  } else if (failure.kind == Kind::no_answer) {
    let_silence_come(device.timeout_s);
  }
  return std::unexpected(std::move(failure));
}

}  // namespace firstdraw::watch
