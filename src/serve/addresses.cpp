#include "serve/addresses.hpp"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstring>

namespace firstdraw::serve {
namespace {

std::string text_of(const sockaddr& address) {
  std::array<char, INET6_ADDRSTRLEN> text{};
  if (address.sa_family == AF_INET) {
    sockaddr_in four{};
    std::memcpy(&four, &address, sizeof four);
    inet_ntop(AF_INET, &four.sin_addr, text.data(), text.size());
  } else if (address.sa_family == AF_INET6) {
    sockaddr_in6 six{};
    std::memcpy(&six, &address, sizeof six);
    if (IN6_IS_ADDR_LINKLOCAL(&six.sin6_addr)) return {};
    inet_ntop(AF_INET6, &six.sin6_addr, text.data(), text.size());
  }
  return text.data();
}

bool is_six(const std::string& address) { return address.find(':') != std::string::npos; }

}  // namespace

std::vector<std::string> addresses_of_this_machine() {
  std::vector<std::string> found;
  ifaddrs* list = nullptr;
  if (getifaddrs(&list) != 0) return found;
  for (const ifaddrs* each = list; each != nullptr; each = each->ifa_next) {
    const bool counts =
        each->ifa_addr != nullptr && (each->ifa_flags & IFF_UP) != 0 && (each->ifa_flags & IFF_LOOPBACK) == 0;
    if (!counts) continue;
    if (std::string text = text_of(*each->ifa_addr); !text.empty()) found.push_back(std::move(text));
  }
  freeifaddrs(list);
  std::ranges::stable_partition(found, [](const std::string& address) { return !is_six(address); });
  return found;
}

std::vector<std::string> names_of_this_machine() {
  std::array<char, 256> name{};
  if (gethostname(name.data(), name.size() - 1) != 0 || name[0] == '\0') return {};
  std::string host(name.data());
  std::ranges::transform(host, host.begin(),
                         [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  const bool whole = host.find('.') != std::string::npos;
  if (whole) return {host};
  return {host, host + ".local"};
}

}  // namespace firstdraw::serve
