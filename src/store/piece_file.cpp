// Piece files on the disk.
#include <fcntl.h>
#include <fmt/core.h>
#include <fstream>
#include <iterator>
#include <sys/stat.h>
#include <unistd.h>

#include "kerfwright/piece/document.h"
#include "kerfwright/store/shelf.h"

namespace kw {
namespace fs = std::filesystem;

namespace {

Diagnostic cannot_write(const fs::path& file, const std::string& why) {
  return {.code = "io.cannot-write",
          .message = fmt::format("`{}` cannot be written: {}", file.string(), why),
          .hint = "make room on the disk, or give yourself leave to write there"};
}

// Writes beside the file; the name of what was written.
Outcome<fs::path> write_beside(const fs::path& file, const std::string& bytes) {
  const fs::path draft = file.parent_path() / fmt::format(".{}.part", file.filename().string());
  const int handle = ::open(draft.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
  if (handle < 0) return cannot_write(file, std::generic_category().message(errno));
  std::size_t done = 0;
  while (done < bytes.size()) {
    const ssize_t n = ::write(handle, bytes.data() + done, bytes.size() - done);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) break;
    done += static_cast<std::size_t>(n);
  }
  const int why = errno;
  if (::close(handle) == 0 && done == bytes.size()) return draft;
  ::unlink(draft.c_str());
  return cannot_write(file, std::generic_category().message(why));
}

}  // namespace

FileMark mark_of(const fs::path& file) {
  struct stat found = {};
  if (::stat(file.c_str(), &found) != 0) return {};
  return {static_cast<std::int64_t>(found.st_size),
          static_cast<std::int64_t>(found.st_mtim.tv_sec) * 1'000'000'000 + found.st_mtim.tv_nsec,
          static_cast<std::uint64_t>(found.st_ino)};
}

Outcome<std::string> read_piece_file(const fs::path& file) {
  std::error_code error;
  if (!fs::is_regular_file(file, error)) {
    return Diagnostic{.code = "io.cannot-read",
                      .message = fmt::format("`{}` is not a file that can be read", file.string()),
                      .hint = "check its name and folder"};
  }
  if (fs::file_size(file, error) > most_bytes) {
    return Diagnostic{
        .code = "io.too-large",
        .message = fmt::format("`{}` is larger than {} bytes", file.string(), most_bytes),
        .hint = "divide the piece into several files"};
  }
  std::ifstream in(file, std::ios::binary);
  std::string bytes{std::istreambuf_iterator<char>(in), {}};
  if (!in.is_open() || in.bad()) {
    return Diagnostic{.code = "io.cannot-read",
                      .message = fmt::format("`{}` cannot be read", file.string()),
                      .hint = "check that you have leave to read it"};
  }
  return bytes;
}

Diagnostics write_piece_file(const fs::path& file, const std::string& bytes) {
  const auto draft = write_beside(file, bytes);
  if (!draft) return draft.diagnostics();
  if (::rename(draft->c_str(), file.c_str()) == 0) return {};
  const int why = errno;
  ::unlink(draft->c_str());
  return {cannot_write(file, std::generic_category().message(why))};
}

Diagnostics make_piece_file(const fs::path& file, const std::string& bytes) {
  const auto draft = write_beside(file, bytes);
  if (!draft) return draft.diagnostics();
  const int state = ::link(draft->c_str(), file.c_str());
  const int why = errno;
  ::unlink(draft->c_str());
  if (state == 0) return {};
  if (why != EEXIST) return {cannot_write(file, std::generic_category().message(why))};
  return {{.code = "shelf.name-taken",
           .message = fmt::format("there is a `{}` already", file.filename().string()),
           .hint = "choose another name"}};
}

}  // namespace kw
