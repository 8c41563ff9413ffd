// Binary glTF: a JSON chunk that says what the numbers of the binary chunk are (glTF 2.0, 4.4
// and 3.6).
#include <algorithm>
#include <bit>
#include <cmath>
#include <fmt/format.h>
#include <iterator>
#include <limits>
#include <map>

#include "kerfwright/solid/export.h"

#include "characters.h"
#include "wood_colour.h"

namespace kw {
namespace {

constexpr double metres = 0.001;  // in a millimetre

std::string json_text(std::string_view text) {
  std::string out = "\"";
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t from = at;
    const char32_t character = next_character(text, at);
    if (character == no_character)
      out += "\\ufffd";
    else if (character < 0x20 || character == '"' || character == '\\')
      out += fmt::format("\\u{:04x}", static_cast<unsigned>(character));
    else
      out += text.substr(from, at - from);
  }
  return out + "\"";
}

// Little-endian, as glTF wants it (3.6.1).
void append(std::string& bytes, std::uint32_t number) {
  for (int shift = 0; shift < 32; shift += 8) bytes += static_cast<char>((number >> shift) & 0xFFu);
}
void append(std::string& bytes, float number) {
  append(bytes, std::bit_cast<std::uint32_t>(number));
}

// A mesh as the graphics card has it: a corner for each point and each smooth group of faces.
struct Corners {
  std::vector<std::array<float, 3>> points = {}, normals = {};
  std::vector<std::uint32_t> indices = {};
};

// Facets of one cylinder are smooth together; every other face stands alone.
int smooth_group(const Shape& shape, int face) {
  const int cylinder = shape.faces[static_cast<std::size_t>(face)].cylinder;
  return cylinder < 0 ? face : static_cast<int>(shape.faces.size()) + cylinder;
}

Vec3 normal_at(const Shape& shape, int face, Vec3 point) {
  const Face& of = shape.faces[static_cast<std::size_t>(face)];
  if (of.cylinder < 0) return of.plane.normal;
  const Cylinder& cylinder = shape.cylinders[static_cast<std::size_t>(of.cylinder)];
  const Vec3 arm = point - cylinder.point;
  const Vec3 out = unit(arm - cylinder.axis * dot(arm, cylinder.axis));
  return cylinder.is_hollow ? -out : out;
}

std::array<float, 3> to_floats(Vec3 v) {
  return {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
}

Corners corners_of(const Shape& shape) {
  const auto mesh = mesh_of(shape);
  Corners corners;
  std::map<std::pair<std::uint32_t, int>, std::uint32_t> known;
  for (std::size_t i = 0; i < mesh->triangles.size(); ++i)
    for (const std::uint32_t point : mesh->triangles[i]) {
      const int face = mesh->face_of[i];
      const auto next = static_cast<std::uint32_t>(corners.points.size());
      const auto [at, is_new] = known.try_emplace({point, smooth_group(shape, face)}, next);
      if (is_new) {
        corners.points.push_back(to_floats(mesh->points[point] * metres));
        corners.normals.push_back(to_floats(normal_at(shape, face, mesh->points[point])));
      }
      corners.indices.push_back(at->second);
    }
  return corners;
}

// The lists of the JSON chunk as they grow, and the binary chunk.
struct Writing {
  std::vector<std::string> nodes = {}, meshes = {}, materials = {}, accessors = {}, views = {};
  std::string binary = {};
  std::map<std::string, int> material_of = {};                // by species
  std::map<std::pair<const Shape*, int>, int> mesh_for = {};  // by shape and material
};

int last(const std::vector<std::string>& list) {
  return static_cast<int>(list.size()) - 1;
}

constexpr int vertex_buffer = 34962, index_buffer = 34963;  // bufferView.target
constexpr int float_type = 5126, unsigned_type = 5125;      // accessor.componentType

void add_view(Writing& writing, std::size_t begin, int target) {
  writing.views.push_back(
      fmt::format(R"({{"buffer":0,"byteOffset":{},"byteLength":{},"target":{}}})", begin,
                  writing.binary.size() - begin, target));
}

int add_vectors(Writing& writing, const std::vector<std::array<float, 3>>& vectors) {
  const std::size_t begin = writing.binary.size();
  std::array<float, 3> low = vectors.front(), high = vectors.front();
  for (const auto& vector : vectors)
    for (std::size_t k = 0; k < 3; ++k) {
      append(writing.binary, vector[k]);
      low[k] = std::min(low[k], vector[k]);
      high[k] = std::max(high[k], vector[k]);
    }
  add_view(writing, begin, vertex_buffer);
  writing.accessors.push_back(fmt::format(
      R"({{"bufferView":{},"componentType":{},"count":{},"type":"VEC3","min":[{}],"max":[{}]}})",
      last(writing.views), float_type, vectors.size(), fmt::join(low, ","), fmt::join(high, ",")));
  return last(writing.accessors);
}

int add_indices(Writing& writing, const std::vector<std::uint32_t>& indices) {
  const std::size_t begin = writing.binary.size();
  for (const std::uint32_t index : indices) append(writing.binary, index);
  add_view(writing, begin, index_buffer);
  writing.accessors.push_back(
      fmt::format(R"({{"bufferView":{},"componentType":{},"count":{},"type":"SCALAR"}})",
                  last(writing.views), unsigned_type, indices.size()));
  return last(writing.accessors);
}

int material_for(Writing& writing, const std::string& species) {
  const auto [at, is_new] =
      writing.material_of.try_emplace(species, static_cast<int>(writing.materials.size()));
  if (is_new) {
    const auto colour = wood_colour_of(species);
    writing.materials.push_back(fmt::format(
        R"({{"name":{},"pbrMetallicRoughness":{{"baseColorFactor":[{:.4f},{:.4f},{:.4f},1],"metallicFactor":0,"roughnessFactor":0.8}}}})",
        json_text(species.empty() ? "wood" : species), colour[0], colour[1], colour[2]));
  }
  return at->second;
}

// Copies that share a shape and a species share a mesh.
int mesh_for(Writing& writing, const Shape& shape, int material) {
  const auto [at, is_new] =
      writing.mesh_for.try_emplace({&shape, material}, static_cast<int>(writing.meshes.size()));
  if (!is_new) return at->second;
  const Corners corners = corners_of(shape);
  const int points = add_vectors(writing, corners.points),
            normals = add_vectors(writing, corners.normals);
  const int indices = add_indices(writing, corners.indices);
  writing.meshes.push_back(fmt::format(
      R"({{"primitives":[{{"attributes":{{"POSITION":{},"NORMAL":{}}},"indices":{},"material":{}}}]}})",
      points, normals, indices, material));
  return at->second;
}

// z up and y away from you become y up and z towards you.
Vec3 to_y_up(Vec3 v) {
  return {v.x, v.z, -v.y};
}

// Columns of the board's frame, in metres.
std::string matrix_of(const Frame& frame) {
  std::string out;
  for (const Vec3 axis : {frame.x, frame.y, frame.z}) {
    const Vec3 column = to_y_up(axis);
    out += fmt::format("{},{},{},0,", column.x, column.y, column.z);
  }
  const Vec3 origin = to_y_up(frame.origin) * metres;
  return out + fmt::format("{},{},{},1", origin.x, origin.y, origin.z);
}

std::string json_of(const Resolved& piece, const Writing& writing) {
  std::vector<int> roots;
  for (std::size_t i = 0; i < writing.nodes.size(); ++i) roots.push_back(static_cast<int>(i));
  std::string lists;
  const auto add_list = [&](std::string_view name, const std::vector<std::string>& list) {
    if (!list.empty()) lists += fmt::format(R"(,"{}":[{}])", name, fmt::join(list, ","));
  };
  add_list("nodes", writing.nodes);
  add_list("meshes", writing.meshes);
  add_list("materials", writing.materials);
  add_list("accessors", writing.accessors);
  add_list("bufferViews", writing.views);
  if (!writing.binary.empty())
    lists += fmt::format(R"(,"buffers":[{{"byteLength":{}}}])", writing.binary.size());
  const std::string nodes =
      roots.empty() ? "" : fmt::format(R"(,"nodes":[{}])", fmt::join(roots, ","));
  return fmt::format(
      R"({{"asset":{{"version":"2.0","generator":"Kerfwright"}},"scene":0,"scenes":[{{"name":{}{}}}]{}}})",
      json_text(piece.title), nodes, lists);
}

void append_chunk(std::string& file, std::uint32_t type, std::string chunk, char padding) {
  while (chunk.size() % 4 != 0) chunk += padding;
  append(file, static_cast<std::uint32_t>(chunk.size()));
  append(file, type);
  file += chunk;
}

}  // namespace

Outcome<std::string> to_glb(const Resolved& piece, const std::vector<Body>& bodies) {
  constexpr std::uint32_t magic = 0x46546C67, json_chunk = 0x4E4F534A, binary_chunk = 0x004E4942,
                          version = 2;
  Writing writing;
  for (const Body& body : bodies) {
    if (!body.shape || body.shape->faces.empty()) continue;
    const ResolvedBoard& board = piece.boards[static_cast<std::size_t>(body.board)];
    const std::string& species = piece.stocks[static_cast<std::size_t>(board.stock)].species;
    const int mesh = mesh_for(writing, *body.shape, material_for(writing, species));
    writing.nodes.push_back(fmt::format(R"({{"name":{},"mesh":{},"matrix":[{}]}})",
                                        json_text(board.id), mesh, matrix_of(body.frame)));
  }
  std::string chunks;
  append_chunk(chunks, json_chunk, json_of(piece, writing), ' ');
  if (!writing.binary.empty()) append_chunk(chunks, binary_chunk, std::move(writing.binary), '\0');
  if (chunks.size() > std::numeric_limits<std::uint32_t>::max() - 12)
    return Diagnostic{.code = "solid.too-many-faces",
                      .message = "the piece is too large for one glTF file (4 GB)"};
  std::string file;
  append(file, magic);
  append(file, version);
  append(file, static_cast<std::uint32_t>(chunks.size() + 12));
  return file + chunks;
}

}  // namespace kw
