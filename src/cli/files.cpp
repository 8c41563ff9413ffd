#include "files.h"

#include <fmt/core.h>
#include <fstream>
#include <iterator>
#include <system_error>

namespace kw::cli {
namespace fs = std::filesystem;
namespace {

Diagnostic cannot_write(const fs::path& path, const std::string& why) {
  return {
      .code = "io.cannot-write",
      .message = fmt::format("`{}` cannot be written: {}", path.string(), why),
      .hint =
          "choose another folder with --out, or make room and give yourself leave to write there"};
}

bool holds(const fs::path& path, const std::string& bytes) {
  std::error_code error;
  if (fs::file_size(path, error) != bytes.size() || error) return false;
  std::ifstream in(path, std::ios::binary);
  return std::string(std::istreambuf_iterator<char>(in), {}) == bytes;
}

fs::path with_suffix(fs::path path, const char* suffix) {
  return path += suffix;
}

}  // namespace

Outcome<Text> read_file(const fs::path& path, std::uintmax_t most) {
  std::error_code error;
  if (!fs::is_regular_file(path, error)) {
    return Diagnostic{.code = "io.cannot-read",
                      .message = fmt::format("`{}` is not a file that can be read", path.string()),
                      .hint = "check its name and folder"};
  }
  if (fs::file_size(path, error) > most) {
    return Diagnostic{.code = "io.too-large",
                      .message = fmt::format("`{}` is larger than {} bytes", path.string(), most),
                      .hint = "split it, or check that it is the file you mean"};
  }
  std::ifstream in(path, std::ios::binary);
  Text text{path.string(), std::string(std::istreambuf_iterator<char>(in), {})};
  if (in.bad() || !in.is_open()) {
    return Diagnostic{.code = "io.cannot-read",
                      .message = fmt::format("`{}` cannot be read", path.string()),
                      .hint = "check that you have leave to read it"};
  }
  return text;
}

Diagnostics write_file(const fs::path& path, const std::string& bytes) {
  std::error_code error;
  if (holds(path, bytes)) return {};
  fs::create_directories(path.parent_path().empty() ? "." : path.parent_path(), error);
  if (error) return {cannot_write(path.parent_path(), error.message())};
  const fs::path draft = with_suffix(path, ".part");
  {
    std::ofstream out(draft, std::ios::binary | std::ios::trunc);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.flush();
    if (!out) {
      fs::remove(draft, error);
      return {cannot_write(path, "the disk took only part of it")};
    }
  }
  if (fs::exists(path, error)) fs::rename(path, with_suffix(path, "~"), error);
  if (!error) fs::rename(draft, path, error);
  if (error) return {cannot_write(path, error.message())};
  return {};
}

Diagnostics write_all(const std::vector<File>& files, const fs::path& folder) {
  Diagnostics faults;
  for (const File& file : files) {
    for (Diagnostic& fault : write_file(folder / file.name, file.bytes))
      faults.push_back(std::move(fault));
  }
  return faults;
}

}  // namespace kw::cli
