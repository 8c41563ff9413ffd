// Runs a fuzz target on every file of a folder, in the order of their names: a plain test.
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count);

namespace {

std::vector<std::uint8_t> bytes_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

}  // namespace

int main(int count, char** arguments) {
  std::set<std::filesystem::path> files;
  for (int i = 1; i < count; ++i) {
    for (const auto& entry : std::filesystem::directory_iterator(arguments[i])) {
      files.insert(entry.path());
    }
  }
  if (files.empty()) {
    std::fputs("no seed to run\n", stderr);
    return 1;
  }
  for (const auto& file : files) {
    std::printf("%s\n", file.filename().c_str());
    std::fflush(stdout);  // so that the last line names the seed that brought the target down
    const auto bytes = bytes_of(file);
    LLVMFuzzerTestOneInput(bytes.data(), bytes.size());
  }
  return 0;
}
