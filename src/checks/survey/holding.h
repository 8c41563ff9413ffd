// Private to checks: what each joint's screws, dowels and glue take, and may be counted on for.
#pragma once

#include <string>
#include <vector>

#include "survey/strength.h"

namespace kw::surveying {

// A fastener as the strength of its joint sees it: inches.
struct Fixing {
  const Driven* driven = nullptr;
  Holding kind = Holding::wood_screw;
  bool is_dowel = false, is_bolt = false, is_toe_nail = false;
  double diameter = 0, root = 0, head = 0, thread = 0, bite = 0, through = 0;
  double near_gravity = 0, far_gravity = 0, near_thickness = 0;
  bool in_end_grain = false;
  double third = 0;  // wood of a third board that it goes on into
  int count = 1;     // of the joint, C_g among them
  double spacing = 0;
};

// The worst that a joint comes to.
struct JointUse {
  double ratio = 0;
  std::string load = {};
  // Of the worst fastener, or of the worst glued patch: N.
  double across = 0, pull = 0, across_limit = 0, pull_limit = 0;
  bool by_glue = false, by_dowel = false, by_toe_nail = false, pulled_from_end_grain = false;
  YieldMode mode = YieldMode::four;
};

class JointJudge {
 public:
  JointJudge(const Scene& scene, const Bearing& bearing, const std::vector<Timber>& timbers);
  void weigh(const LoadCase& load, const FrameAnswer& answer);
  [[nodiscard]] const std::vector<JointUse>& uses() const { return uses_; }  // by joint
  // Joints whose strength is not known: their wood or glue has no figures.
  [[nodiscard]] const std::vector<int>& unknown() const { return unknown_; }
  [[nodiscard]] const std::vector<std::vector<Fixing>>& fixings() const { return fixings_; }

 private:
  struct Limits {
    double across = 0, pull = 0;  // N
    YieldMode mode = YieldMode::four;
  };
  struct Row;
  [[nodiscard]] Row row_of(const FrameAnswer& answer, int joint) const;
  [[nodiscard]] JointUse use_of(const Fixing& f, Vec3 shear, double pull,
                                const LoadCase& load) const;
  [[nodiscard]] JointUse fixing_use(const LoadCase& load, const FrameAnswer& answer,
                                    int joint) const;
  [[nodiscard]] JointUse glue_use(const LoadCase& load, const FrameAnswer& answer, int joint) const;
  [[nodiscard]] Limits limits_of(const Fixing& fixing, Vec3 across, Duration duration) const;
  [[nodiscard]] Limits limits_of_dowel(const Fixing& dowel, Vec3 across, double time) const;

  const Scene& scene_;
  const Bearing& bearing_;
  const std::vector<Timber>& timbers_;
  std::vector<std::vector<int>> links_;       // by joint
  std::vector<std::vector<Fixing>> fixings_;  // by joint
  std::vector<JointUse> uses_;
  std::vector<int> unknown_ = {};
};

}  // namespace kw::surveying
