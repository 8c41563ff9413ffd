// The glTF file: its JSON by a JSON library, its geometry by an importer that is not ours.
#include <assimp/Importer.hpp>
#include <assimp/postprocess.h>
#include <assimp/scene.h>
#include <cstring>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "kerfwright/solid/export.h"

#include "made_bodies.h"
#include "made_piece.h"

namespace kw {
namespace {

using test::board_of;
using test::frame_at;
using test::joint_of;

// Two legs that share a shape, a rail lapped over one of them and bored.
Resolved trestle() {
  const Vec3 up = {0, 0, 1};
  std::vector<ResolvedBoard> boards = {
      board_of("leg/a", 38, 89, 700, frame_at({0, 0, 0}, up, {1, 0, 0})),
      board_of("leg \"b\"", 38, 89, 700, frame_at({600, 0, 0}, up, {1, 0, 0})),
      board_of("Br\xC3\xBC"
               "cke",
               38, 89, 900, frame_at({-100, 0, 500}, {1, 0.2, 0}, {0, 0, 1}))};
  boards[2].holes.push_back({"hook", {450, 10, 19}, {0, 0, -1}, 20, 38, true, -1});
  Resolved piece = test::piece_of(std::move(boards), {joint_of(JointKind::notch, 0, 2)});
  piece.stocks[0].species = "white oak";
  return piece;
}

std::uint32_t number_at(const std::string& file, std::size_t at) {
  std::uint32_t number = 0;
  std::memcpy(&number, file.data() + at, 4);
  return number;
}

nlohmann::json json_in(const std::string& file) {
  return nlohmann::json::parse(file.substr(20, number_at(file, 12)));
}

struct Read {
  std::size_t triangles = 0;
  double volume = 0;  // m^3
  Vec3 low = {1e9, 1e9, 1e9}, high = {-1e9, -1e9, -1e9};
};

void add_triangle(const Vec3 (&corner)[3], Read& read) {
  ++read.triangles;
  read.volume += dot(corner[0], cross(corner[1], corner[2])) / 6;
  for (const Vec3& c : corner) {
    read.low = {std::min(read.low.x, c.x), std::min(read.low.y, c.y), std::min(read.low.z, c.z)};
    read.high = {std::max(read.high.x, c.x), std::max(read.high.y, c.y),
                 std::max(read.high.z, c.z)};
  }
}

void add_node(const aiScene& scene, const aiNode& node, const aiMatrix4x4& above, Read& read) {
  const aiMatrix4x4 here = above * node.mTransformation;
  for (unsigned m = 0; m < node.mNumMeshes; ++m) {
    const aiMesh& mesh = *scene.mMeshes[node.mMeshes[m]];
    for (unsigned f = 0; f < mesh.mNumFaces; ++f) {
      Vec3 corner[3];
      for (unsigned k = 0; k < 3; ++k) {
        const aiVector3D v = here * mesh.mVertices[mesh.mFaces[f].mIndices[k]];
        corner[k] = {v.x, v.y, v.z};
      }
      add_triangle(corner, read);
    }
  }
  for (unsigned i = 0; i < node.mNumChildren; ++i) add_node(scene, *node.mChildren[i], here, read);
}

TEST(ToGlb, IsReadByAnotherImporterWithTheSameTrianglesAndVolume) {
  const Resolved piece = trestle();
  const auto bodies = test::bodies_from(piece);
  const auto file = to_glb(piece, bodies);
  ASSERT_TRUE(file);
  Assimp::Importer importer;
  const aiScene* scene = importer.ReadFileFromMemory(file->data(), file->size(), 0, "glb");
  ASSERT_NE(scene, nullptr) << importer.GetErrorString();
  Read read;
  add_node(*scene, *scene->mRootNode, aiMatrix4x4(), read);
  std::size_t triangles = 0;
  double volume = 0;
  Vec3 low = {1e9, 1e9, 1e9}, high = {-1e9, -1e9, -1e9};
  for (const Body& body : bodies) {
    const auto mesh = mesh_of(*body.shape);
    triangles += mesh->triangles.size();
    volume += body.shape->volume.value;
    for (const Vec3& point : mesh->points) {
      const Vec3 p = body.frame.to_world(point);
      low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
      high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
    }
  }
  EXPECT_EQ(read.triangles, triangles);
  EXPECT_NEAR(read.volume * 1e9, volume, 1e-5 * volume);  // floats
  // x to the right, y up, z towards you.
  EXPECT_LT(norm(read.low - Vec3{low.x, low.z, -high.y} * 0.001), 1e-6);
  EXPECT_LT(norm(read.high - Vec3{high.x, high.z, -low.y} * 0.001), 1e-6);
}

TEST(ToGlb, NamesItsNodesAndSharesTheMeshesOfCopies) {
  Resolved piece = trestle();
  piece.joints.clear();
  auto bodies = test::bodies_from(piece);
  bodies[1].shape = bodies[0].shape;
  const auto file = to_glb(piece, bodies);
  ASSERT_TRUE(file);
  const auto json = json_in(*file);
  ASSERT_EQ(json["nodes"].size(), 3u);
  EXPECT_EQ(json["nodes"][0]["name"], "leg/a");
  EXPECT_EQ(json["nodes"][1]["name"], "leg \"b\"");
  EXPECT_EQ(json["nodes"][2]["name"],
            "Br\xC3\xBC"
            "cke");
  EXPECT_EQ(json["nodes"][0]["mesh"], json["nodes"][1]["mesh"]);
  EXPECT_EQ(json["meshes"].size(), 2u);
  EXPECT_EQ(json["materials"][0]["name"], "white oak");
}

TEST(ToGlb, ItsChunksAddUpAndItsAccessorsStayInTheBuffer) {
  const Resolved piece = trestle();
  const auto file = to_glb(piece, test::bodies_from(piece));
  ASSERT_TRUE(file);
  EXPECT_EQ(file->substr(0, 4), "glTF");
  EXPECT_EQ(number_at(*file, 4), 2u);
  EXPECT_EQ(number_at(*file, 8), file->size());
  const std::size_t binary = 20 + number_at(*file, 12);
  EXPECT_EQ(binary % 4, 0u);
  EXPECT_EQ(binary + 8 + number_at(*file, binary), file->size());
  const auto json = json_in(*file);
  for (const auto& accessor : json["accessors"]) {
    const auto& view = json["bufferViews"][accessor["bufferView"].get<std::size_t>()];
    const std::size_t size = accessor["type"] == "VEC3" ? 12 : 4;
    EXPECT_EQ(accessor["count"].get<std::size_t>() * size, view["byteLength"].get<std::size_t>());
    EXPECT_LE(view["byteOffset"].get<std::size_t>() + view["byteLength"].get<std::size_t>(),
              json["buffers"][0]["byteLength"].get<std::size_t>());
  }
}

TEST(ToGlb, ItsNormalsAreUnitAndAHolesLookToItsAxis) {
  Resolved piece = trestle();
  piece.joints.clear();
  piece.boards = {piece.boards[2]};
  const auto file = to_glb(piece, test::bodies_from(piece));
  ASSERT_TRUE(file);
  Assimp::Importer importer;
  const aiScene* scene = importer.ReadFileFromMemory(file->data(), file->size(), 0, "glb");
  ASSERT_NE(scene, nullptr);
  int on_wall = 0;
  const aiMesh& mesh = *scene->mMeshes[0];
  for (unsigned i = 0; i < mesh.mNumVertices; ++i) {
    EXPECT_NEAR(mesh.mNormals[i].Length(), 1, 1e-6);
    const double x = mesh.mVertices[i].x - 0.450, y = mesh.mVertices[i].y - 0.010;
    if (std::hypot(x, y) > 0.011 || std::abs(mesh.mNormals[i].z) > 0.5) continue;
    ++on_wall;
    EXPECT_LT(x * mesh.mNormals[i].x + y * mesh.mNormals[i].y, -0.0099);
  }
  EXPECT_EQ(on_wall, 64);  // 32 sides, a corner at each end
}

TEST(ToGlb, OfNothingIsStillAFile) {
  const auto file = to_glb({}, {});
  ASSERT_TRUE(file);
  EXPECT_EQ(json_in(*file)["asset"]["version"], "2.0");
  EXPECT_FALSE(json_in(*file).contains("nodes"));
}

TEST(ToGlb, BadBytesInANameAreReplaced) {
  Resolved piece = trestle();
  piece.title = "a\xFF\xC3\x28 b\n";
  EXPECT_EQ(json_in(*to_glb(piece, {}))["scenes"][0]["name"], "a\xEF\xBF\xBD\xEF\xBF\xBD( b\n");
}

}  // namespace
}  // namespace kw
