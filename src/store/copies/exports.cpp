// Cabinets as folders of open files, and back.
#include <charconv>
#include <fcntl.h>
#include <fmt/core.h>
#include <fstream>
#include <map>
#include <unistd.h>

#include "kerfwright/store/copies.h"

#include "copying.h"

namespace kw {
namespace fs = std::filesystem;
using namespace storing;

namespace storing {

bool is_on_disk(const fs::path& file) {
  const int handle = ::open(file.c_str(), O_RDONLY | O_CLOEXEC);
  if (handle < 0) return false;
  const bool is_done = ::fsync(handle) == 0;
  ::close(handle);
  return is_done;
}

}  // namespace storing

namespace {

// A line of an export: a job's book in hexadecimal fits.
constexpr std::size_t most_of_line = 80'000'000;

constexpr std::string_view about_begin = "{\"kerfwright\":\"cabinet\",\"form\":";

bool write_file(const fs::path& file, std::string_view bytes) {
  std::ofstream out(file, std::ios::binary);
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  out.close();
  return out.good() && is_on_disk(file);
}

// Letters, figures, `.`, `-` and `_` as they are; all else, and a first `.`, as %XX.
std::string file_name_of(std::string_view name) {
  std::string out;
  for (const char c : name) {
    const bool is_plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                          (c >= '0' && c <= '9') || c == '-' || c == '_' ||
                          (c == '.' && !out.empty());
    out += is_plain ? std::string(1, c)
                    : fmt::format("%{:02X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
  }
  return out;
}

// Writes a cabinet's rows below a folder that is there.
class Exporter {
 public:
  Exporter(Driver& driver, fs::path folder) : driver_(driver), folder_(std::move(folder)) {}

  bool write_all() {
    std::error_code error;
    fs::create_directory(folder_ / "pieces", error);
    fs::create_directory(folder_ / "published", error);
    for (const Table& table : tables()) {
      if (!write(table)) return false;
    }
    return write_text() &&
           write_file(folder_ / "about.json", fmt::format("{}{}}}\n", about_begin, newest_form));
  }

 private:
  bool write(const Table& table) {
    const fs::path file = folder_ / fmt::format("{}.jsonl", table.name);
    std::ofstream out(file, std::ios::binary);
    const Trouble trouble = each_row(driver_, table, [&](const Row& row) {
      out << line_of(table, row) << '\n';
      return out.good() && note(table, row);
    });
    out.close();
    return trouble == Trouble::none && out.good() && is_on_disk(file);
  }

  bool note(const Table& table, const Row& row) {
    if (table.name == "piece") names_[row[0].number] = row[1].bytes;
    if (table.name == "published") {
      const std::string name = fmt::format("{}-{}.toml", file_name_of(row[0].bytes), row[1].number);
      return write_file(folder_ / "published" / name, row[4].bytes);
    }
    if (table.name != "revision") return true;
    if (row[0].number != texts_.piece() && !write_text()) return false;
    texts_.take(row);
    return true;
  }

  bool write_text() {
    const auto name = names_.find(texts_.piece());
    return name == names_.end() ||
           write_file(folder_ / "pieces" / (file_name_of(name->second) + ".toml"), texts_.text());
  }

  Driver& driver_;
  fs::path folder_;
  std::map<std::int64_t, std::string> names_ = {};
  Texts texts_ = {};
};

Diagnostic bad_export(const fs::path& file, std::size_t line, const std::string& why) {
  return {.code = "store.bad-export",
          .message = line == 0 ? fmt::format("`{}`: {}", file.string(), why)
                               : fmt::format("`{}`, line {}: {}", file.string(), line, why),
          .hint = "use an export as it was made, or put the line right"};
}

// One line without its end; false at the end of the file. `is_too_long` when it is.
bool next_line(std::istream& in, std::string& line, bool& is_too_long) {
  line.clear();
  for (int c = in.get(); c != std::istream::traits_type::eof(); c = in.get()) {
    if (c == '\n') return true;
    if (line.size() == most_of_line) {
      is_too_long = true;
      return true;
    }
    line += static_cast<char>(c);
  }
  return !line.empty();
}

// Empty when all rows of the file are in. `trouble` when the database did not take them.
Diagnostics import_table(const fs::path& folder, const Table& table, Driver& driver,
                         Trouble& trouble) {
  const fs::path file = folder / fmt::format("{}.jsonl", table.name);
  std::ifstream in(file, std::ios::binary);
  if (!in) return {bad_export(file, 0, "it cannot be read")};
  std::string line;
  bool is_too_long = false;
  for (std::size_t number = 1; next_line(in, line, is_too_long); ++number) {
    if (is_too_long) return {bad_export(file, number, "it is too long")};
    const auto values = values_of(table, line);
    if (!values) return {bad_export(file, number, values.diagnostics().front().message)};
    if (insert_row(driver, table, *values)) continue;
    trouble = driver.trouble();
    return {bad_export(file, number, driver.words())};
  }
  return {};
}

Diagnostics faults_of_about(const fs::path& folder) {
  const fs::path file = folder / "about.json";
  std::ifstream in(file, std::ios::binary);
  std::string line;
  bool is_too_long = false;
  int form = 0;
  if (!in || !next_line(in, line, is_too_long) || !line.starts_with(about_begin))
    return {bad_export(file, 0, "this is not the folder of an export")};
  std::from_chars(line.data() + about_begin.size(), line.data() + line.size(), form);
  if (form > newest_form) return {newer({.file = folder}, form)};
  if (form != newest_form)
    return {bad_export(
        file, 1, fmt::format("it is of form {}; this program reads form {}", form, newest_form))};
  return {};
}

}  // namespace

Diagnostics export_all(const Cabinet& cabinet, const fs::path& folder) {
  Cabinet::Held& held = cabinet.held();
  const std::lock_guard lock(held.mutex);
  std::error_code error;
  if (fs::exists(folder, error)) return {copy_exists(folder)};
  const fs::path draft = folder.string() + ".part";
  fs::remove_all(draft, error);
  if (!fs::create_directories(draft, error)) return {cannot_copy(folder, error.message())};
  bool is_written = false;
  const Trouble trouble = transact(*held.driver, [&] {
    is_written = Exporter(*held.driver, draft).write_all();
    return Verdict::drop;
  });
  if (is_written && trouble == Trouble::none) {
    fs::rename(draft, folder, error);
    if (!error) return {};
  }
  fs::remove_all(draft, error);
  const std::string words = held.driver->words();
  return {cannot_copy(folder, words.empty() ? "the disk did not take it" : words)};
}

Diagnostics import_all(const fs::path& folder, const Cabinet& into) {
  Cabinet::Held& held = into.held();
  const std::lock_guard lock(held.mutex);
  Diagnostics faults = faults_of_about(folder);
  if (!faults.empty()) return faults;
  const Trouble trouble = transact(*held.driver, [&] {
    if (!is_empty(*held.driver)) {
      faults = {not_empty(held)};
      return Verdict::drop;
    }
    faults.clear();
    Trouble of_rows = Trouble::none;
    for (const Table& table : tables()) {
      if (faults.empty()) faults = import_table(folder, table, *held.driver, of_rows);
    }
    if (of_rows == Trouble::again || of_rows == Trouble::lost) return Verdict::failed;
    return faults.empty() ? Verdict::keep : Verdict::drop;
  });
  if (faults.empty() && trouble != Trouble::none) return {cannot_keep(held)};
  return faults;
}

}  // namespace kw
