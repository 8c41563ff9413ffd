// Private to checks: the frame read off a piece's boards and contacts.
#pragma once

#include <array>

#include "kerfwright/checks/frame.h"

#include "survey/scene.h"

namespace kw::surveying {

// A board as a beam along the middle of its section, with nodes where others meet it.
struct BeamBoard {
  int body = -1;
  std::vector<double> along = {};  // of the nodes, in the board's frame, rising
  std::vector<int> nodes = {};
  std::vector<int> members = {};
  std::vector<Profile> profiles = {};
  std::vector<double> held = {};  // where others or the ground touch it, rising
  Vec3 middle = {};               // y, z of the beam's line in the board's frame
};

struct LinkOrigin {
  int contact = -1;  // index into Scene::contacts
  int joint = -1;    // -1: the boards only bear on one another
  double area = 0;
  double reach_x = 0, reach_y = 0;  // half extents of the patch, mm
};

struct Bearing {
  FrameModel model = {};
  std::vector<BeamBoard> beams = {};   // by body
  std::vector<LinkOrigin> links = {};  // by link of the model
  std::vector<int> member_body = {};   // by member of the model
  std::vector<int> loose = {};         // boards that nothing ties to the ground
  int feet = 0;
};
[[nodiscard]] Bearing bearing_of(const Scene& scene);

// The node of a board nearest to a place along it.
[[nodiscard]] int node_at(const Bearing& bearing, int body, double along);

}  // namespace kw::surveying
