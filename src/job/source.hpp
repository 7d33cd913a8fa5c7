// Where the files of a job come from: a folder on the disk, or text that lies in memory. One reader serves
// both.
#pragma once

#include <expected>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "job/context.hpp"

namespace firstdraw::job {

/// Names are as in messages: "runs.csv", "catalog/LT-8.toml".
class Source {
 public:
  Source() = default;
  Source(const Source&) = delete;
  Source& operator=(const Source&) = delete;
  virtual ~Source() = default;

  /// Whole text of a file; a problem when it is missing or cannot be read.
  virtual std::optional<std::string> text(std::string_view name, Context& context) const = 0;
  virtual bool has(std::string_view name) const = 0;
  /// Files of a folder of the job ("catalog"; "": beside job.toml), sorted; none when there is no such
  /// folder. Fails with the reason when it cannot be listed.
  virtual std::expected<std::vector<std::string>, std::string> names(std::string_view under) const = 0;
};

class FolderSource final : public Source {
 public:
  explicit FolderSource(std::filesystem::path folder) : folder_(std::move(folder)) {}
  std::optional<std::string> text(std::string_view name, Context& context) const override;
  bool has(std::string_view name) const override;
  std::expected<std::vector<std::string>, std::string> names(std::string_view under) const override;

 private:
  std::filesystem::path folder_;
};

/// The texts by their names; they must outlive it.
class TextSource final : public Source {
 public:
  explicit TextSource(const std::map<std::string, std::string>& texts) : texts_(texts) {}
  std::optional<std::string> text(std::string_view name, Context& context) const override;
  bool has(std::string_view name) const override;
  std::expected<std::vector<std::string>, std::string> names(std::string_view under) const override;

 private:
  const std::map<std::string, std::string>& texts_;
};

/// As read_job of a folder; `folder` becomes the job's.
Result<Job> read_job(const Source& source, const std::string& folder);

}  // namespace firstdraw::job
