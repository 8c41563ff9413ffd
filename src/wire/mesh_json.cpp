// A mesh of a shape as the page draws it and points at it.
#include <bit>
#include <fmt/core.h>

#include "view_writing.h"

namespace kw {
using namespace wire;

namespace {

void append(std::string& bytes, std::uint32_t number) {
  for (unsigned shift = 0; shift < 32; shift += 8)
    bytes += static_cast<char>((number >> shift) & 0xFFU);
}

std::string points_of(const Mesh& mesh) {
  std::string bytes;
  bytes.reserve(mesh.points.size() * 12);
  for (const Vec3& p : mesh.points)
    for (const double c : {p.x, p.y, p.z})
      append(bytes, std::bit_cast<std::uint32_t>(static_cast<float>(c)));
  return bytes;
}

// Triangles in the order of their faces, and where each face's begin.
struct Ordered {
  std::string bytes = {};
  std::vector<std::size_t> from = {};  // by face, and one more
};

Ordered triangles_of(const Mesh& mesh, std::size_t faces) {
  std::vector<std::vector<std::size_t>> by_face(faces);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    by_face[static_cast<std::size_t>(mesh.face_of[t])].push_back(t);
  Ordered ordered;
  std::size_t count = 0;
  for (const auto& triangles : by_face) {
    ordered.from.push_back(count);
    count += triangles.size();
    for (const std::size_t t : triangles)
      for (const std::uint32_t p : mesh.triangles[t]) append(ordered.bytes, p);
  }
  ordered.from.push_back(count);
  return ordered;
}

std::string edges_of(const Mesh& mesh) {
  std::string bytes;
  for (const auto& edge : mesh.edges)
    for (const std::uint32_t p : edge) append(bytes, p);
  return bytes;
}

std::string_view side_of(const Face& face, const Feature& feature) {
  constexpr std::array<std::string_view, 6> sides = {"-x", "+x", "-y", "+y", "-z", "+z"};
  const bool is_side = feature.kind == FeatureKind::stick && face.side >= 0 && face.side < 6;
  return is_side ? sides[static_cast<std::size_t>(face.side)] : "";
}

std::string_view words_of(const Face& face, const Feature& feature) {
  constexpr std::array<std::string_view, 6> sides = {"start",   "end",     "edge -y",
                                                     "edge +y", "face -z", "face +z"};
  const bool is_side = feature.kind == FeatureKind::stick && face.side >= 0 && face.side < 6;
  return is_side ? sides[static_cast<std::size_t>(face.side)] : name_of(feature.kind);
}

void write_face(JsonWriter& json, const Shape& shape, std::size_t i, const Ordered& ordered) {
  const Face& face = shape.faces[i];
  const Feature& feature = at(shape.features, face.feature);
  json.object().key("from").number(ordered.from[i]);
  json.key("count").number(ordered.from[i + 1] - ordered.from[i]);
  json.key("normal").point(face.plane.normal).key("offset").number(face.plane.offset);
  json.key("side").text(side_of(face, feature)).key("feature").text(name_of(feature.kind));
  json.key("words").text(words_of(face, feature)).key("curved").truth(face.cylinder >= 0).end();
}

// FNV-1a, 64 bits (Fowler, Noll, Vo).
std::string hash_of(std::string_view bytes) {
  std::uint64_t hash = 14695981039346656037ULL;
  for (const char c : bytes) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
  return fmt::format("{:016x}", hash);
}

MeshWriter::Written write(const Mesh& mesh, const Shape& shape) {
  JsonWriter body;
  const Ordered ordered = triangles_of(mesh, shape.faces.size());
  body.object().key("points").text(base64(points_of(mesh)));
  body.key("triangles").text(base64(ordered.bytes)).key("edges").text(base64(edges_of(mesh)));
  body.key("faces").array();
  for (std::size_t i = 0; i < shape.faces.size(); ++i) write_face(body, shape, i, ordered);
  body.end().end();
  const std::string json = body.take();
  MeshWriter::Written written{hash_of(json), {}};
  written.json = fmt::format("{{\"id\":\"{}\",{}", written.id, std::string_view(json).substr(1));
  return written;
}

}  // namespace

std::shared_ptr<const MeshWriter::Written> MeshWriter::written(
    const std::shared_ptr<const Mesh>& mesh, const std::shared_ptr<const Shape>& shape) {
  Known& known = known_[mesh.get()];
  known.is_used = true;
  if (!known.written) {
    known.mesh = mesh;
    known.written = std::make_shared<const Written>(write(*mesh, *shape));
  }
  return known.written;
}

void MeshWriter::forget_unused() {
  std::erase_if(known_, [](const auto& one) { return !one.second.is_used; });
  for (auto& [mesh, known] : known_) known.is_used = false;
}

}  // namespace kw
