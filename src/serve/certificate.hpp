// The certificate by which the network reaches us: given, or one of our own that is made once and kept.
#pragma once

#include <expected>
#include <filesystem>
#include <string>
#include <vector>

namespace firstdraw::serve {

struct Certificate {
  std::string cert_file, key_file;
  std::string fingerprint;         // SHA-256, "AB:CD:…", as browsers show it
  std::vector<std::string> names;  // of hosts that it is for
};

/// Reads a PEM pair; one that does not belong together, is not yet or no more good is an error in words.
std::expected<Certificate, std::string> read_certificate(const std::string& cert_file,
                                                         const std::string& key_file);

/// lan-cert.pem and lan-key.pem in `state` (mode 600): those that are there while they are good for a month
/// more, else new ones for these host names and addresses.
std::expected<Certificate, std::string> own_certificate(const std::filesystem::path& state,
                                                        const std::vector<std::string>& hosts);

}  // namespace firstdraw::serve
