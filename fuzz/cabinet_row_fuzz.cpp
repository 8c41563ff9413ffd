// Any bytes as a line of an export, for each table: what is read is written as a line that reads
// the same.
#include <cstdint>

#include "require.h"
#include "tables.h"

namespace {

using namespace kw::storing;

Row row_of(const std::vector<Value>& values) {
  Row row;
  for (const Value& value : values) {
    Cell& cell = row.emplace_back();
    cell.is_null = std::holds_alternative<std::monostate>(value);
    if (const auto* number = std::get_if<std::int64_t>(&value)) cell.number = *number;
    if (const auto* text = std::get_if<std::string>(&value)) cell.bytes = *text;
    if (const auto* blob = std::get_if<Blob>(&value)) cell.bytes = blob->bytes;
  }
  return row;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  const std::string_view line(reinterpret_cast<const char*>(bytes), count);
  for (const Table& table : tables()) {
    const auto values = values_of(table, line);
    if (!values) {
      kw::fuzz::require(!values.diagnostics().front().message.empty());
      continue;
    }
    kw::fuzz::require(values->size() == table.columns.size());
    const std::string written = line_of(table, row_of(*values));
    const auto again = values_of(table, written);
    kw::fuzz::require(static_cast<bool>(again));
    kw::fuzz::require(line_of(table, row_of(*again)) == written);
  }
  return 0;
}
