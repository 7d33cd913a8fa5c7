#include "serve/certificate.hpp"

#include <arpa/inet.h>
#include <fmt/format.h>
#include <openssl/bn.h>
#include <openssl/ec.h>
#include <openssl/evp.h>
#include <openssl/pem.h>
#include <openssl/rand.h>
#include <openssl/x509v3.h>

#include <array>
#include <memory>

#include "serve/safe_file.hpp"

namespace firstdraw::serve {
namespace {

namespace fs = std::filesystem;

template <auto Free>
struct Freed {
  template <class T>
  void operator()(T* thing) const {
    Free(thing);
  }
};
using Key = std::unique_ptr<EVP_PKEY, Freed<EVP_PKEY_free>>;
using Cert = std::unique_ptr<X509, Freed<X509_free>>;
using Bio = std::unique_ptr<BIO, Freed<BIO_free>>;
using Number = std::unique_ptr<BIGNUM, Freed<BN_free>>;
using Extension = std::unique_ptr<X509_EXTENSION, Freed<X509_EXTENSION_free>>;
using Names = std::unique_ptr<GENERAL_NAMES, Freed<GENERAL_NAMES_free>>;

constexpr long day_s = 86400, good_for_days = 397, least_left_days = 30;

Bio memory(const std::string& text) {
  return Bio(BIO_new_mem_buf(text.data(), static_cast<int>(text.size())));
}

std::string text_in(const Bio& bio) {
  char* data = nullptr;
  const long size = BIO_get_mem_data(bio.get(), &data);
  return {data, static_cast<std::size_t>(size)};
}

bool is_address(const std::string& host) {
  std::array<unsigned char, sizeof(in6_addr)> bytes{};
  return inet_pton(AF_INET, host.c_str(), bytes.data()) == 1 ||
         inet_pton(AF_INET6, host.c_str(), bytes.data()) == 1;
}

std::string subject_names(const std::vector<std::string>& hosts) {
  std::string text;
  for (const std::string& host : hosts)
    text += fmt::format("{}{}:{}", text.empty() ? "" : ",", is_address(host) ? "IP" : "DNS", host);
  return text;
}

bool add_extension(X509* cert, int kind, const std::string& value) {
  X509V3_CTX context;
  X509V3_set_ctx_nodb(&context);
  X509V3_set_ctx(&context, cert, cert, nullptr, nullptr, 0);
  const Extension extension(X509V3_EXT_conf_nid(nullptr, &context, kind, value.c_str()));
  return extension && X509_add_ext(cert, extension.get(), -1) == 1;
}

bool set_serial(X509* cert) {
  std::array<unsigned char, 16> bytes{};
  if (RAND_bytes(bytes.data(), static_cast<int>(bytes.size())) != 1) return false;
  bytes[0] &= 0x7fU;
  const Number serial(BN_bin2bn(bytes.data(), static_cast<int>(bytes.size()), nullptr));
  return serial && BN_to_ASN1_INTEGER(serial.get(), X509_get_serialNumber(cert)) != nullptr;
}

Cert signed_certificate(EVP_PKEY* key, const std::vector<std::string>& hosts) {
  Cert cert(X509_new());
  if (!cert || X509_set_version(cert.get(), 2) != 1 || !set_serial(cert.get())) return nullptr;
  X509_gmtime_adj(X509_getm_notBefore(cert.get()), -day_s);
  X509_gmtime_adj(X509_getm_notAfter(cert.get()), good_for_days * day_s);
  X509_NAME* name = X509_get_subject_name(cert.get());
  const std::string shown = "Firstdraw on " + hosts.front();
  X509_NAME_add_entry_by_txt(
      name, "CN", MBSTRING_UTF8,
      reinterpret_cast<const unsigned char*>(shown.c_str()),  // NOLINT: OpenSSL's letters
      -1, -1, 0);
  const bool made = X509_set_issuer_name(cert.get(), name) == 1 && X509_set_pubkey(cert.get(), key) == 1 &&
                    add_extension(cert.get(), NID_subject_alt_name, subject_names(hosts)) &&
                    add_extension(cert.get(), NID_basic_constraints, "critical,CA:FALSE") &&
                    add_extension(cert.get(), NID_key_usage, "critical,digitalSignature") &&
                    add_extension(cert.get(), NID_ext_key_usage, "serverAuth") &&
                    X509_sign(cert.get(), key, EVP_sha256()) > 0;
  return made ? std::move(cert) : nullptr;
}

std::string fingerprint_of(X509* cert) {
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned size = 0;
  X509_digest(cert, EVP_sha256(), digest.data(), &size);
  std::string text;
  for (unsigned i = 0; i < size; ++i) text += fmt::format("{}{:02X}", i == 0 ? "" : ":", digest.at(i));
  return text;
}

std::vector<std::string> names_of(X509* cert) {
  std::vector<std::string> hosts;
  const Names names(
      static_cast<GENERAL_NAMES*>(X509_get_ext_d2i(cert, NID_subject_alt_name, nullptr, nullptr)));
  for (int i = 0; names && i < sk_GENERAL_NAME_num(names.get()); ++i) {
    const GENERAL_NAME* name = sk_GENERAL_NAME_value(names.get(), i);
    if (name->type != GEN_DNS) continue;
    const ASN1_STRING* text = name->d.dNSName;
    hosts.emplace_back(
        reinterpret_cast<const char*>(ASN1_STRING_get0_data(text)),  // NOLINT: OpenSSL's letters
        static_cast<std::size_t>(ASN1_STRING_length(text)));
  }
  return hosts;
}

bool good_in(X509* cert, long days) {
  time_t then = time(nullptr) + days * day_s;
  return X509_cmp_time(X509_get0_notAfter(cert), &then) > 0;
}

std::expected<Cert, std::string> read_pair(const std::string& cert_file, const std::string& key_file) {
  const auto cert_text = read_whole(cert_file), key_text = read_whole(key_file);
  if (!cert_text) return std::unexpected(cert_text.error());
  if (!key_text) return std::unexpected(key_text.error());
  Cert cert(PEM_read_bio_X509(memory(*cert_text).get(), nullptr, nullptr, nullptr));
  if (!cert) return std::unexpected(cert_file + " is no certificate in PEM");
  const Key key(PEM_read_bio_PrivateKey(memory(*key_text).get(), nullptr, nullptr, nullptr));
  if (!key) return std::unexpected(key_file + " is no private key in PEM without a password");
  if (X509_check_private_key(cert.get(), key.get()) != 1)
    return std::unexpected(fmt::format("{} is not the key of {}", key_file, cert_file));
  return cert;
}

std::expected<void, std::string> make_pair(const fs::path& cert_file, const fs::path& key_file,
                                           const std::vector<std::string>& hosts) {
  const std::unexpected<std::string> failed("no certificate can be made: OpenSSL refuses");
  const Key key(EVP_EC_gen("P-256"));
  if (!key) return failed;
  const Cert cert = signed_certificate(key.get(), hosts);
  const Bio cert_text(BIO_new(BIO_s_mem())), key_text(BIO_new(BIO_s_mem()));
  if (!cert || PEM_write_bio_X509(cert_text.get(), cert.get()) != 1 ||
      PEM_write_bio_PrivateKey(key_text.get(), key.get(), nullptr, nullptr, 0, nullptr, nullptr) != 1)
    return failed;
  if (auto written = write_safely(key_file, text_in(key_text)); !written) return written;
  return write_safely(cert_file, text_in(cert_text));
}

}  // namespace

std::expected<Certificate, std::string> read_certificate(const std::string& cert_file,
                                                         const std::string& key_file) {
  const auto cert = read_pair(cert_file, key_file);
  if (!cert) return std::unexpected(cert.error());
  if (!good_in(cert->get(), 0)) return std::unexpected(cert_file + " is no longer good: its time is over");
  if (X509_cmp_current_time(X509_get0_notBefore(cert->get())) > 0)
    return std::unexpected(cert_file + " is not good yet");
  return Certificate{cert_file, key_file, fingerprint_of(cert->get()), names_of(cert->get())};
}

std::expected<Certificate, std::string> own_certificate(const fs::path& state,
                                                        const std::vector<std::string>& hosts) {
  const fs::path cert_file = state / "lan-cert.pem", key_file = state / "lan-key.pem";
  const auto kept = read_pair(cert_file.string(), key_file.string());
  if (!kept || !good_in(kept->get(), least_left_days))
    if (auto made = make_pair(cert_file, key_file, hosts); !made) return std::unexpected(made.error());
  return read_certificate(cert_file.string(), key_file.string());
}

}  // namespace firstdraw::serve
