// Files by their hash: photos before and after a record names them.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "serve/house.hpp"
#include "serve/route.hpp"
#include "store/sha256.hpp"

namespace firstdraw::serve {
namespace {

Answer put_file(House& house, const Call& call) {
  const auto hash = house.uploads.put(call.body);
  if (!hash) return std::unexpected(hash.error());
  return json_reply({{"sha256", *hash}, {"bytes", call.body.size()}}, 201);
}

bool names_file(const std::vector<store::Record>& records, const std::string& hash) {
  return std::ranges::any_of(records, [&](const store::Record& record) {
    return std::ranges::find(record.attachments, hash, &store::Attachment::sha256) !=
           record.attachments.end();
  });
}

/// Of a job whose records name it, as far as the caller may see.
std::optional<std::string> recorded_file(House& house, const Call& call, const std::string& hash) {
  for (const std::string& id : house.jobs.ids()) {
    if (!call.caller.may_see(id)) continue;
    const auto job = house.job(id);
    if (!job) continue;
    const auto records = house.books.records(**job);
    if (!records || !names_file(*records, hash)) continue;
    if (auto bytes = house.books.file(**job, hash)) return bytes;
  }
  return std::nullopt;
}

Answer file(House& house, const Call& call) {
  const std::string& hash = call.in_path("sha256");
  if (!store::is_sha256_hex(hash))
    return refuse(Why::bad_input, "64 hexadecimal digits were expected", "", "sha256");
  std::optional<std::string> bytes;
  if (call.caller.may_change()) bytes = house.uploads.get(hash);
  if (!bytes) bytes = recorded_file(house, call, hash);
  if (!bytes) return refuse(Why::not_found, "there is no such file");
  const std::string_view type = type_by_content(*bytes);
  Reply reply{200, std::string(type.empty() ? "application/octet-stream" : type), *std::move(bytes), {}};
  reply.headers.emplace_back("Cache-Control", "private, max-age=31536000, immutable");
  if (type.empty()) reply.headers.emplace_back("Content-Disposition", "attachment");
  return reply;
}

}  // namespace

void add_file_routes(Routes& routes) {
  routes.push_back({Method::post, "/api/files", Right::change, Body::file, put_file});
  routes.push_back({Method::get, "/api/files/{sha256}", Right::look, Body::none, file});
}

}  // namespace firstdraw::serve
