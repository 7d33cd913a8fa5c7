// Files as one ZIP, by libarchive. Same files, same bytes.
#pragma once

#include <expected>
#include <map>
#include <string>
#include <string_view>

namespace firstdraw::serve {

/// By name; why not, in one sentence.
std::expected<std::string, std::string> zip_of(const std::map<std::string, std::string>& files);

/// Content-Disposition that saves under this name, whatever letters it has (RFC 6266, RFC 8187).
std::string attachment_header(std::string_view name);

}  // namespace firstdraw::serve
