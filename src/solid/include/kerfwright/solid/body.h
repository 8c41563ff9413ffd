// True solids from boards and joints, by a planar core of our own: a board is a convex stick,
// trimmed by planes, minus convex cutters (notches, housings, holes as prisms of many sides beside
// their exact cylinder). Each face knows the feature that made it, so that saw settings and marks
// follow from the cut and are not recognised afterwards.
//
// Guarantees: plain immutable values; the same input gives the same bits. Copies share one Shape.
// Tolerances: planes of a board that nowhere in it come further apart than 2.5e-4 mm are one, and
// so are corners nearer than 1e-4 mm; faces that vanish by it are left out.
#pragma once

#include <array>
#include <memory>
#include <string>
#include <vector>

#include "kerfwright/diag/outcome.h"
#include "kerfwright/measure/angle.h"
#include "kerfwright/measure/vector.h"
#include "kerfwright/piece/resolved.h"

namespace kw {

enum class FeatureKind : std::uint8_t {
  stick,  // a face of the stick itself
  start,
  end,
  cut,
  taper,
  outline,
  corner,  // planes and outlines
  half_lap,
  notch,
  housing,
  rabbet,
  groove,
  bridle,
  tenon,
  mortise,  // what joints take away
  hole,
  dowel_hole,
  pilot_hole,
  pocket_hole,
  clearance_hole
};

// The six sides of a stick, in the board's frame. Also `Face::side` of the feature `stick`.
enum class Side : std::uint8_t {
  start,
  end,
  low_edge,
  high_edge,
  back,
  front
};  // -x +x -y +y -z +z

// An exact cylinder: a hole's wall or a rounding.
struct Cylinder {
  Vec3 point = {}, axis = {};  // axis is a unit vector
  double radius = 0;
  bool is_hollow = false;  // the wood lies outside
};

// One thing done to the stick. Features of a shape are numbered; number 0 is the stick itself.
struct Feature {
  FeatureKind kind = FeatureKind::stick;
  std::string name = {};  // of the cut, corner, hole or joint
  int joint = -1;         // index into Resolved::joints
  int partner = -1;       // the other board of that joint
  // For what is taken out of the stick: the half-spaces whose meeting is the wood taken away;
  // normals look out of the hollow, into the wood left. `Face::side` counts in this list. One
  // feature may have several cutters (a tenon has four); `cutter_begin` holds where each starts in
  // `planes`.
  std::vector<Plane> planes = {};
  std::vector<int> cutter_begin = {};
  int hole = -1;  // for holes that were asked for: index into ResolvedBoard::holes
  Vec3 mouth = {},
       direction = {};  // for holes: centre where the bit enters, unit vector into the wood
  double diameter = 0, depth = 0;  // for holes; depth past 1e5 is right through
};

struct Face {
  int feature = 0;
  int side = 0;       // stick: a Side; otherwise which plane of the feature
  int cylinder = -1;  // index into Shape::cylinders when it is a facet of a curved face
  Plane plane = {};   // the normal looks out of the wood
  // Outer loops counter-clockwise seen from outside the wood, holes clockwise; corners are points.
  std::vector<std::vector<Vec3>> loops = {};
};

struct ConvexParts;  // private to solid: the convex stick and its cutters, kept for clashes

// A board as it comes from the bench, in its own frame.
struct Shape {
  std::vector<Feature> features = {};
  std::vector<Face> faces = {};
  std::vector<Cylinder> cylinders = {};
  Volume volume = {};
  Area area = {};
  Vec3 centroid = {};
  Vec3 low = {}, high = {};  // the box around it
  std::shared_ptr<const ConvexParts> convex = {};
};

struct Body {
  int board = 0;  // index into Resolved::boards
  Frame frame = {};
  std::shared_ptr<const Shape> shape = {};
};

// Shapes made before, to be used again when nothing about a board changed. Holds the shapes of the
// last call only, so it cannot grow. Not to be shared by two threads at once.
class ShapeCache {
 public:
  ShapeCache();
  ~ShapeCache();
  ShapeCache(ShapeCache&&) noexcept;
  ShapeCache& operator=(ShapeCache&&) noexcept;
  struct Store;
  Store& store() { return *store_; }

 private:
  std::unique_ptr<Store> store_;
};

// One body a board, in the boards' order; a board that has none is left out. Faults:
// solid.nothing-left (a board cut away entirely), solid.in-pieces (warning: a board that falls into
// several), solid.too-many-faces, solid.out-of-range (a size that is no number or lies past 1 km),
// and what joints say (NOTES.md), as solid.no-overlap (a half-lap, bridle or housing whose boards
// do not pass through one another, with the distance).
[[nodiscard]] Reading<std::vector<Body>> bodies_of(const Resolved& piece);
[[nodiscard]] Reading<std::vector<Body>> bodies_of(const Resolved& piece, ShapeCache& cache);

// A fastener of a joint as it is driven, whether or not a hole is drilled for it. In the world, mm.
struct Driven {
  int joint = 0;            // index into Resolved::joints
  int near = -1, far = -1;  // boards that it goes in through, and that it holds in
  Vec3 head = {};           // where it enters the wood of `near` (a pocket screw: its head's seat)
  Vec3 direction = {};      // unit, towards the point
  double length = 0;        // from the head's seat; of a dowel, all of it
  double diameter = 0;
  double through = 0;  // wood of `near` from the head to the far board
  double wood = 0;     // wood of `far` along the axis, before its own holes
  bool is_pocket = false, is_dowel = false, is_toe_nail = false;
  std::string fastener = {};  // the catalogue's name, "" when it has none
};
// Every fastener that `bodies_of` finds room for, in the order of the joints.
[[nodiscard]] std::vector<Driven> driven_in(const Resolved& piece);
// Joints that name a kind ("deck screw") get the fastener that the rule chooses for their wood
// (lumber/choose.h); where none fits, `bodies_of` tells solid.no-fastener-fits.
void settle_fasteners(Resolved& piece);

// Two bodies that want the same room. Touching faces are not a clash: a ball of 0.01 mm must find
// room in the wood in common. At most the first 2,000 are told.
struct Clash {
  int a = 0, b = 0;  // indices of bodies, a < b
  Volume volume = {};
  Vec3 low = {}, high = {};  // the box around it, in the world
};
[[nodiscard]] std::vector<Clash> clashes_in(const std::vector<Body>& bodies);
[[nodiscard]] std::vector<Clash> clashes_in(const std::vector<Body>& bodies, ShapeCache& cache);

// Two faces that look at one another: their common patch, in the world.
struct Contact {
  int a = 0, b = 0;            // bodies, a < b
  int face_a = 0, face_b = 0;  // indices into Shape::faces
  double gap = 0;              // mm between them; 0 when they touch (within 0.01 mm)
  Area area = {};
  Vec3 centre = {};                           // of the patch, on a's face
  std::vector<std::vector<Vec3>> patch = {};  // loops on a's face, seen from outside a
};
// Pairs of flat faces, parallel within 0.1 degree and facing one another, at most `widest` mm
// apart (where the patch has its centre), whose patch is larger than 1 mm^2. At most the first
// 50,000.
[[nodiscard]] std::vector<Contact> contacts_in(const std::vector<Body>& bodies,
                                               double widest = 3.0);
[[nodiscard]] std::vector<Contact> contacts_in(const std::vector<Body>& bodies, double widest,
                                               ShapeCache& cache);

// Triangles for the screen and for export: watertight, each edge used once each way (where wood
// meets wood in a bare line, twice each way). In the body's own frame, millimetres.
struct Mesh {
  std::vector<Vec3> points = {};
  std::vector<std::array<std::uint32_t, 3>> triangles = {};
  std::vector<int> face_of = {};  // for each triangle, index into Shape::faces
  std::vector<std::array<std::uint32_t, 2>> edges =
      {};  // lines to draw: not between facets of a curve
};
[[nodiscard]] std::shared_ptr<const Mesh> mesh_of(const Shape& shape);
// Meshes for all bodies; copies share one. With a cache, only what changed is made anew.
[[nodiscard]] std::vector<std::shared_ptr<const Mesh>> meshes_of(const std::vector<Body>& bodies);
[[nodiscard]] std::vector<std::shared_ptr<const Mesh>> meshes_of(const std::vector<Body>& bodies,
                                                                 ShapeCache& cache);

// Volume, mass (of the boards whose density is known), and centre of gravity (by mass where every
// density is known, else by volume).
struct Weight {
  Volume volume = {};
  Mass mass = {};
  Vec3 centre = {};
  int without_density = 0;  // boards whose species was not said
};
[[nodiscard]] Weight weight_of(const Resolved& piece, const std::vector<Body>& bodies);

}  // namespace kw
