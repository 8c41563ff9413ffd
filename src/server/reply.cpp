#include <algorithm>
#include <fmt/core.h>

#include "message.h"

namespace kw::serving {
namespace {

int hex_of(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

std::optional<std::string> decoded(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    char c = text[i];
    if (c == '%') {
      const int high = i + 1 < text.size() ? hex_of(text[i + 1]) : -1;
      const int low = i + 2 < text.size() ? hex_of(text[i + 2]) : -1;
      if (high < 0 || low < 0) return std::nullopt;
      c = static_cast<char>(high * 16 + low);
      i += 2;
    }
    if (static_cast<unsigned char>(c) < 0x20U || c == 0x7F) return std::nullopt;
    out += c;
  }
  return out;
}

bool read_pairs(std::string_view query, std::map<std::string, std::string>& into) {
  while (!query.empty()) {
    const std::string_view pair = query.substr(0, query.find('&'));
    query.remove_prefix(std::min(query.size(), pair.size() + 1));
    const std::size_t equals = std::min(pair.find('='), pair.size());
    const auto key = decoded(pair.substr(0, equals));
    const auto value = decoded(equals < pair.size() ? pair.substr(equals + 1) : "");
    if (!key || !value || !into.emplace(*key, *value).second) return false;
  }
  return true;
}

}  // namespace

Reply json(std::string body, int status) {
  return {.status = status, .body = std::move(body)};
}

Reply problem(const Trouble& what) {
  return {.status = what.status, .type = "application/problem+json", .body = problem_json(what)};
}

Reply problem(int status, const Diagnostics& why) {
  return problem({.status = status, .why = why.empty() ? Diagnostic{} : why.front()});
}

Reply no_such_page() {
  return problem(404, {{.code = "server.no-such-page",
                        .message = "there is nothing at this address",
                        .hint = "begin at the shelf: /"}});
}

Reply wrong_method(const std::string& allowed) {
  Reply reply = problem(405, {{.code = "server.wrong-method",
                               .message = fmt::format("this address takes {}", allowed),
                               .hint = "web/contract/openapi.yaml tells what may be asked"}});
  reply.headers.emplace_back("Allow", allowed);
  return reply;
}

bool read_target(std::string_view target, Request& into) {
  constexpr std::size_t longest = 2000;
  if (target.size() > longest || !target.starts_with('/')) return false;
  const std::size_t mark = std::min(target.find('?'), target.size());
  if (mark < target.size() && !read_pairs(target.substr(mark + 1), into.query)) return false;
  std::string_view path = target.substr(1, mark - 1);
  while (!path.empty()) {
    const std::size_t slash = std::min(path.find('/'), path.size());
    const auto part = decoded(path.substr(0, slash));
    if (!part || *part == "." || *part == ".." || part->empty()) return false;
    into.path.push_back(*part);
    path.remove_prefix(std::min(path.size(), slash + 1));
  }
  return true;
}

std::optional<Form> read_form(std::string_view text) {
  std::string plain(text);
  std::replace(plain.begin(), plain.end(), '+', ' ');
  Form form;
  if (!read_pairs(plain, form)) return std::nullopt;
  return form;
}

Reply asset_reply(const Asset& asset, const Request& request) {
  Reply reply{.type = std::string(asset.type)};
  reply.headers.emplace_back("ETag", std::string(asset.etag));
  reply.headers.emplace_back(
      "Cache-Control", asset.is_immutable ? "public, max-age=31536000, immutable" : "no-cache");
  reply.headers.emplace_back("Vary", "Accept-Encoding");
  if (!request.has_etag.empty() && request.has_etag == asset.etag) {
    reply.status = 304;
    return reply;
  }
  if (request.takes_br && !asset.br.empty()) {
    reply.headers.emplace_back("Content-Encoding", "br");
    reply.body = std::string(asset.br);
  } else if ((request.takes_gzip || asset.plain.empty()) && !asset.gzip.empty()) {
    reply.headers.emplace_back("Content-Encoding", "gzip");
    reply.body = std::string(asset.gzip);
  } else {
    reply.body = std::string(asset.plain);
  }
  return reply;
}

std::string asked_for(const Request& request, const std::string& key) {
  const auto found = request.query.find(key);
  return found == request.query.end() ? std::string() : found->second;
}

Diagnostic badly_asked() {
  return {.code = "wire.bad-request",
          .message = "paper is letter or a4, unit is in or mm",
          .hint = "web/contract/openapi.yaml tells what may be asked"};
}

Outcome<std::optional<LengthUnit>> unit_asked_for(const Request& request) {
  const std::string unit = asked_for(request, "unit");
  if (unit.empty()) return std::optional<LengthUnit>();
  if (unit == "mm") return std::optional(LengthUnit::mm);
  if (unit == "in") return std::optional(LengthUnit::inch);
  return badly_asked();
}

}  // namespace kw::serving
