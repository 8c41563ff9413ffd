#include "bench.h"

#include <cstddef>
#include <fmt/format.h>
#include <qrcodegen/qrcodegen.hpp>
#include <random>

namespace kw::serving {
namespace {

constexpr std::int64_t code_lasts = 10 * 60 * 1000;  // ms
constexpr int most_guesses = 5;
constexpr std::size_t most_phones = 16;

// Of the system's source of randomness.
std::uint32_t random_below(std::uint32_t limit) {
  static thread_local std::random_device device("/dev/urandom");
  return std::uniform_int_distribution<std::uint32_t>(0, limit - 1)(device);
}

// Takes as long whatever differs.
bool is_same(const std::string& a, const std::string& b) {
  if (a.size() != b.size()) return false;
  unsigned differs = 0;
  for (std::size_t i = 0; i < a.size(); ++i)
    differs |=
        static_cast<unsigned>(static_cast<unsigned char>(a[i]) ^ static_cast<unsigned char>(b[i]));
  return differs == 0;
}

}  // namespace

std::string new_token() {
  std::string token;
  for (int i = 0; i < 32; ++i) token += "0123456789abcdef"[random_below(16)];
  return token;
}

std::string qr_svg(const std::string& text) {
  const auto code = qrcodegen::QrCode::encodeText(text.c_str(), qrcodegen::QrCode::Ecc::MEDIUM);
  const int size = code.getSize();
  constexpr int quiet = 4;  // modules left white around it (ISO/IEC 18004, 5.3.8)
  std::string path;
  for (int y = 0; y < size; ++y)
    for (int x = 0; x < size; ++x)
      if (code.getModule(x, y)) path += fmt::format("M{},{}h1v1h-1z", x + quiet, y + quiet);
  const int whole = size + 2 * quiet;
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {0}\" "
      "shape-rendering=\"crispEdges\"><rect width=\"{0}\" height=\"{0}\" fill=\"#fff\"/><path "
      "d=\"{1}\" fill=\"#000\"/></svg>",
      whole, path);
}

bool Bench::open(const PairedTo& to, std::int64_t now) {
  const std::lock_guard lock(mutex_);
  if (!address_ && open_port) address_ = open_port();
  if (!address_) return false;
  to_ = to;
  code_ = fmt::format("{:06}", random_below(1'000'000));
  expires_ = now + code_lasts;
  guesses_left_ = most_guesses;
  return true;
}

void Bench::close() {
  const std::lock_guard lock(mutex_);
  if (address_ && close_port) close_port();
  address_.reset();
  code_.clear();
  paired_.clear();
}

bool Bench::has_code(std::int64_t now) const {
  return !code_.empty() && now < expires_ && guesses_left_ > 0;
}

BenchState Bench::state(std::int64_t now) const {
  const std::lock_guard lock(mutex_);
  BenchState state{.is_open = address_.has_value(), .paired = static_cast<int>(paired_.size())};
  if (!address_) return state;
  if (to_.batch > 0)
    state.batch = to_.batch;
  else
    state.piece = to_.piece;
  state.address = *address_ + "/bench";
  if (!has_code(now)) return state;
  state.code = code_;
  state.expires = date_text(expires_);
  state.qr = qr_svg(fmt::format("{}/bench?code={}", *address_, code_));
  return state;
}

std::optional<std::string> Bench::pair(const std::string& code, std::int64_t now) {
  const std::lock_guard lock(mutex_);
  if (!has_code(now) || paired_.size() >= most_phones) return std::nullopt;
  if (!is_same(code, code_)) {
    --guesses_left_;
    return std::nullopt;
  }
  code_.clear();
  std::string token = new_token();
  paired_.emplace(token, to_);
  return token;
}

std::optional<PairedTo> Bench::paired_to(const std::string& token) const {
  const std::lock_guard lock(mutex_);
  const auto found = paired_.find(token);
  if (found == paired_.end()) return std::nullopt;
  return found->second;
}

std::optional<std::string> Bench::host() const {
  const std::lock_guard lock(mutex_);
  if (!address_) return std::nullopt;
  return address_->substr(std::string_view("http://").size());
}

}  // namespace kw::serving
