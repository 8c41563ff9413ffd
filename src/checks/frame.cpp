#include "kerfwright/checks/frame.h"

#include <Eigen/Dense>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>

namespace kw {
namespace {

using Matrix = Eigen::Matrix<double, 12, 12>;
using Vector = Eigen::Matrix<double, 12, 1>;
using Six = Eigen::Matrix<double, 6, 1>;

constexpr double no_length = 1e-9;  // mm

Eigen::Vector3d eigen(Vec3 v) {
  return {v.x, v.y, v.z};
}
Vec3 vec3(const Eigen::Vector3d& v) {
  return {v.x(), v.y(), v.z()};
}

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

struct Line {
  Frame axes = {};
  double length = 0;
};

Line line_of(const FrameModel& model, const FrameMember& member) {
  const Vec3 from = model.nodes[at(member.from)].at, to = model.nodes[at(member.to)].at;
  Line line{.length = norm(to - from)};
  line.axes.origin = from;
  line.axes.x = unit(to - from);
  Vec3 y = cross(member.z, line.axes.x);
  if (norm(y) < 1e-9)
    y = cross(std::abs(line.axes.x.z) < 0.9 ? Vec3{0, 0, 1} : Vec3{1, 0, 0}, line.axes.x);
  line.axes.y = unit(y);
  line.axes.z = cross(line.axes.x, line.axes.y);
  return line;
}

// Rows of world directions: local = turn * world, four blocks of three.
Matrix turn_of(const Frame& axes) {
  Matrix turn = Matrix::Zero();
  for (int block = 0; block < 12; block += 3) {
    turn.block<1, 3>(block, block) = eigen(axes.x).transpose();
    turn.block<1, 3>(block + 1, block) = eigen(axes.y).transpose();
    turn.block<1, 3>(block + 2, block) = eigen(axes.z).transpose();
  }
  return turn;
}

struct Bend {
  int move = 0, turn = 0;  // rows of the first end; the second's are 6 on
  double sign = 1;         // of the turning that goes with a rising deflection
};

void add_bending(Matrix& k, const Bend& bend, double ei, double gas, double length) {
  const double phi = gas > 0 ? 12 * ei / (gas * length * length) : 0;
  const double c = ei / (length * length * length * (1 + phi));
  const int v1 = bend.move, t1 = bend.turn, v2 = v1 + 6, t2 = t1 + 6;
  const double s = bend.sign * 6 * length * c;
  const double near = (4 + phi) * length * length * c, far = (2 - phi) * length * length * c;
  k(v1, v1) += 12 * c;
  k(v2, v2) += 12 * c;
  k(v1, v2) -= 12 * c;
  k(v2, v1) -= 12 * c;
  for (const int t : {t1, t2}) {
    k(v1, t) += s;
    k(t, v1) += s;
    k(v2, t) -= s;
    k(t, v2) -= s;
    k(t, t) += near;
  }
  k(t1, t2) += far;
  k(t2, t1) += far;
}

constexpr Bend in_y = {1, 5, 1};   // deflects along y, turns about z
constexpr Bend in_z = {2, 4, -1};  // deflects along z, turns about -y

Matrix local_stiffness(const FrameMember& member, double length) {
  Matrix k = Matrix::Zero();
  const auto add_pair = [&](int row, double value) {
    k(row, row) += value;
    k(row + 6, row + 6) += value;
    k(row, row + 6) -= value;
    k(row + 6, row) -= value;
  };
  const Profile& p = member.profile;
  const double e = member.stiffness, g = member.shear_stiffness;
  add_pair(0, e * p.area / length);
  add_pair(3, g * p.torsion / length);
  add_bending(k, in_y, e * p.inertia_z, g * p.shear_y, length);
  add_bending(k, in_z, e * p.inertia_y, g * p.shear_z, length);
  return k;
}

// What the nodes must give when the ends are clamped, for an even load in the member's axes.
Vector clamped_forces(Vec3 even, double length) {
  Vector f = Vector::Zero();
  const double half = length / 2, moment = length * length / 12;
  for (const int end : {0, 6}) {
    f(end) = even.x * half;
    f(end + 1) = even.y * half;
    f(end + 2) = even.z * half;
    const double sign = end == 0 ? 1 : -1;
    f(end + 5) = sign * even.y * moment;
    f(end + 4) = -sign * even.z * moment;
  }
  return f;
}

// Movement of b's side less a's at the link's point, in the link's axes: 6 x 12.
Eigen::Matrix<double, 6, 12> parting_of(const FrameModel& model, const FrameLink& link) {
  Eigen::Matrix<double, 6, 12> b = Eigen::Matrix<double, 6, 12>::Zero();
  Eigen::Matrix3d axes;
  axes.row(0) = eigen(link.frame.x).transpose();
  axes.row(1) = eigen(link.frame.y).transpose();
  axes.row(2) = eigen(link.frame.z).transpose();
  int column = 0;
  for (const auto& [node, sign] : {std::pair{link.a, -1.0}, std::pair{link.b, 1.0}}) {
    const Vec3 r = link.frame.origin - model.nodes[at(node)].at;
    Eigen::Matrix3d arm;  // theta x r
    arm << 0, r.z, -r.y, -r.z, 0, r.x, r.y, -r.x, 0;
    b.block<3, 3>(0, column) = sign * axes;
    b.block<3, 3>(0, column + 3) = sign * axes * arm;
    b.block<3, 3>(3, column + 3) = sign * axes;
    column += 6;
  }
  return b;
}

Six springs_of(const FrameLink& link) {
  Six k;
  k << link.moving.x, link.moving.y, link.moving.z, link.turning.x, link.turning.y, link.turning.z;
  return k;
}

class Assembly {
 public:
  explicit Assembly(const FrameModel& model) : model_(model), rows_(model.nodes.size() * 6, -1) {
    for (std::size_t i = 0; i < rows_.size(); ++i)
      if (!model.nodes[i / 6].held[i % 6]) rows_[i] = free_++;
    for (const FrameMember& member : model.members) add(member);
    for (const FrameLink& link : model.links) add(link);
    Eigen::SparseMatrix<double> k(free_, free_);
    k.setFromTriplets(triplets_.begin(), triplets_.end());
    if (free_ == 0) return;
    solver_.compute(k);
    is_sound_ = solver_.info() == Eigen::Success && is_stiff(k);
    find_lifting();
  }

  [[nodiscard]] FrameAnswer answer(const FrameLoads& loads);

 private:
  // A pivot that is nothing beside its own row's stiffness: something moves freely.
  bool is_stiff(const Eigen::SparseMatrix<double>& k) const {
    const Eigen::VectorXd pivots = solver_.vectorD();
    const Eigen::VectorXd diagonal = solver_.permutationP() * Eigen::VectorXd(k.diagonal());
    for (Eigen::Index i = 0; i < pivots.size(); ++i)
      if (!(pivots(i) > 1e-12 * diagonal(i))) return false;
    return true;
  }

  void add(const FrameMember& member) {
    const Line line = line_of(model_, member);
    if (line.length < no_length) return;
    const Matrix turn = turn_of(line.axes);
    add(member.from, member.to, turn.transpose() * local_stiffness(member, line.length) * turn);
  }
  void add(const FrameLink& link) {
    const auto b = parting_of(model_, link);
    add(link.a, link.b, b.transpose() * springs_of(link).asDiagonal() * b);
  }
  [[nodiscard]] static std::size_t place(int from, int to, int i) {
    return at(i < 6 ? from : to) * 6 + at(i % 6);
  }
  void add(int from, int to, const Matrix& k) {
    for (int i = 0; i < 12; ++i) {
      for (int j = 0; j < 12; ++j) {
        const int row = rows_[place(from, to, i)], column = rows_[place(from, to, j)];
        if (row < 0) continue;
        if (column >= 0)
          triplets_.emplace_back(row, column, k(i, j));
        else
          held_.push_back({row, place(from, to, j), k(i, j)});
      }
    }
  }
  [[nodiscard]] Vector moved_of(const Eigen::VectorXd& u, int from, int to) const {
    Vector v;
    for (int i = 0; i < 12; ++i) {
      const std::size_t p = place(from, to, i);
      v(i) = rows_[p] >= 0 ? u(rows_[p]) : model_.nodes[p / 6].moved[p % 6];
    }
    return v;
  }
  [[nodiscard]] Eigen::VectorXd pushes(const FrameLoads& loads) const;
  void tell_members(const Eigen::VectorXd& u, const FrameLoads& loads, FrameAnswer& answer) const;
  void tell_links(const Eigen::VectorXd& u, const std::vector<int>& parted,
                  FrameAnswer& answer) const;
  // Links that press and part unlike.
  struct Lifting {
    int link = 0;
    double let_go = 0;               // stiffness lost when it parts
    Eigen::Matrix<double, 12, 1> b;  // what parts it, of its nodes' movements
    Eigen::VectorXd moves = {};      // of all nodes for a force of 1 in it; empty until asked for
  };
  void find_lifting();
  [[nodiscard]] double parting(const Lifting& lifting, const Eigen::VectorXd& u) const;
  const Eigen::VectorXd& moves_of(Lifting& lifting);
  // Lets go of what parts until nothing changes; the links that have parted.
  std::vector<int> bring_to_rest(Eigen::VectorXd& u);
  [[nodiscard]] Eigen::VectorXd let_go(const Eigen::VectorXd& whole, const std::vector<int>& open);
  void react(int from, int to, const Vector& forces, FrameAnswer& answer) const;

  struct Held {
    int row = 0;
    std::size_t place = 0;
    double stiffness = 0;
  };
  const FrameModel& model_;
  std::vector<int> rows_;
  int free_ = 0;
  bool is_sound_ = true;
  std::vector<Eigen::Triplet<double>> triplets_ = {};
  std::vector<Held> held_ = {};
  std::vector<Lifting> lifting_ = {};
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver_ = {};
};

Vec3 even_on(const FrameModel& model, const FrameLoads& loads, std::size_t member) {
  const Vec3 own = model.members[member].even * loads.own;
  return member < loads.even.size() ? own + loads.even[member] : own;
}

Eigen::VectorXd Assembly::pushes(const FrameLoads& loads) const {
  Eigen::VectorXd f = Eigen::VectorXd::Zero(free_);
  const auto push = [&](std::size_t place, double value) {
    if (rows_[place] >= 0) f(rows_[place]) += value;
  };
  for (const NodeLoad& load : loads.nodes) {
    const std::size_t first = at(load.node) * 6;
    const std::array<double, 6> six = {load.force.x,  load.force.y,  load.force.z,
                                       load.moment.x, load.moment.y, load.moment.z};
    for (std::size_t i = 0; i < 6; ++i) push(first + i, six[i]);
  }
  for (std::size_t m = 0; m < model_.members.size(); ++m) {
    const FrameMember& member = model_.members[m];
    const Line line = line_of(model_, member);
    if (line.length < no_length) continue;
    const Vec3 even = line.axes.direction_to_local(even_on(model_, loads, m));
    const Vector six = turn_of(line.axes).transpose() * clamped_forces(even, line.length);
    for (int i = 0; i < 12; ++i) push(place(member.from, member.to, i), six(i));
  }
  for (const Held& held : held_)
    f(held.row) -= held.stiffness * model_.nodes[held.place / 6].moved[held.place % 6];
  return f;
}

void Assembly::react(int from, int to, const Vector& forces, FrameAnswer& answer) const {
  answer.reactions[at(from)] += vec3(forces.segment<3>(0));
  answer.reaction_moments[at(from)] += vec3(forces.segment<3>(3));
  answer.reactions[at(to)] += vec3(forces.segment<3>(6));
  answer.reaction_moments[at(to)] += vec3(forces.segment<3>(9));
}

// The largest bending between two ends under an even load: at an end, or where the shear is
// nothing.
double most_bending(double moment, double shear, double even, double length) {
  const auto bending = [&](double x) { return moment + shear * x + even * x * x / 2; };
  double most = std::max(std::abs(bending(0)), std::abs(bending(length)));
  const double level = even != 0 ? -shear / even : -1;
  if (level > 0 && level < length) most = std::max(most, std::abs(bending(level)));
  return most;
}

void Assembly::tell_members(const Eigen::VectorXd& u, const FrameLoads& loads,
                            FrameAnswer& answer) const {
  for (std::size_t m = 0; m < model_.members.size(); ++m) {
    const FrameMember& member = model_.members[m];
    const Line line = line_of(model_, member);
    MemberForces& forces = answer.members.emplace_back();
    if (line.length < no_length) continue;
    const Matrix turn = turn_of(line.axes);
    const Vec3 even = line.axes.direction_to_local(even_on(model_, loads, m));
    const Vector local =
        local_stiffness(member, line.length) * (turn * moved_of(u, member.from, member.to)) -
        clamped_forces(even, line.length);
    for (int i = 0; i < 6; ++i) {
      forces.at_from[at(i)] = local(i);
      forces.at_to[at(i)] = local(i + 6);
    }
    forces.most_bending_z = most_bending(-local(5), local(1), even.y, line.length);
    forces.most_bending_y = most_bending(local(4), local(2), even.z, line.length);
    react(member.from, member.to, turn.transpose() * local, answer);
  }
}

void Assembly::find_lifting() {
  for (std::size_t l = 0; l < model_.links.size(); ++l) {
    const FrameLink& link = model_.links[l];
    if (link.parting < 0 || link.parting >= link.moving.z) continue;
    lifting_.push_back({static_cast<int>(l), link.moving.z - link.parting,
                        parting_of(model_, link).row(2).transpose()});
  }
}

double Assembly::parting(const Lifting& lifting, const Eigen::VectorXd& u) const {
  const FrameLink& link = model_.links[at(lifting.link)];
  return lifting.b.dot(moved_of(u, link.a, link.b));
}

const Eigen::VectorXd& Assembly::moves_of(Lifting& lifting) {
  if (lifting.moves.size() > 0) return lifting.moves;
  const FrameLink& link = model_.links[at(lifting.link)];
  Eigen::VectorXd f = Eigen::VectorXd::Zero(free_);
  for (int i = 0; i < 12; ++i)
    if (const int row = rows_[place(link.a, link.b, i)]; row >= 0) f(row) += lifting.b(i);
  lifting.moves = solver_.solve(f);
  return lifting.moves;
}

// Woodbury: each open link gives back the force it no longer bears.
Eigen::VectorXd Assembly::let_go(const Eigen::VectorXd& whole, const std::vector<int>& open) {
  const auto count = static_cast<Eigen::Index>(open.size());
  Eigen::MatrixXd system(count, count);
  Eigen::VectorXd parted(count);
  for (Eigen::Index j = 0; j < count; ++j) {
    const Eigen::VectorXd& moves = moves_of(lifting_[at(open[at(static_cast<int>(j))])]);
    for (Eigen::Index i = 0; i < count; ++i) {
      const Lifting& row = lifting_[at(open[at(static_cast<int>(i))])];
      const FrameLink& link = model_.links[at(row.link)];
      double sum = 0;
      for (int k = 0; k < 12; ++k)
        if (const int r = rows_[place(link.a, link.b, k)]; r >= 0) sum += row.b(k) * moves(r);
      system(i, j) = (i == j ? 1 / row.let_go : 0) - sum;
    }
    parted(j) = parting(lifting_[at(open[at(static_cast<int>(j))])], whole);
  }
  const Eigen::VectorXd forces = system.partialPivLu().solve(parted);
  Eigen::VectorXd u = whole;
  for (Eigen::Index j = 0; j < count; ++j)
    u += lifting_[at(open[at(static_cast<int>(j))])].moves * forces(j);
  return u;
}

std::vector<int> Assembly::bring_to_rest(Eigen::VectorXd& u) {
  constexpr int most_turns = 12;
  constexpr std::size_t most_open = 250;  // their system is solved dense
  const Eigen::VectorXd whole = u;
  std::vector<int> open;
  for (int turn = 0; turn < most_turns; ++turn) {
    std::vector<int> next;
    for (std::size_t i = 0; i < lifting_.size(); ++i)
      if (parting(lifting_[i], u) > 1e-9) next.push_back(static_cast<int>(i));
    if (next == open) break;
    if (next.size() > most_open) {  // all held together
      u = whole;
      return {};
    }
    open = std::move(next);
    u = open.empty() ? whole : let_go(whole, open);
  }
  std::vector<int> links;
  for (const int i : open) links.push_back(lifting_[at(i)].link);
  return links;
}

void Assembly::tell_links(const Eigen::VectorXd& u, const std::vector<int>& parted,
                          FrameAnswer& answer) const {
  auto open = parted.begin();
  for (std::size_t l = 0; l < model_.links.size(); ++l) {
    const FrameLink& link = model_.links[l];
    const auto b = parting_of(model_, link);
    Six springs = springs_of(link);
    if (open != parted.end() && *open == static_cast<int>(l)) {
      springs(2) = link.parting;
      ++open;
    }
    const Six pulled = springs.asDiagonal() * (b * moved_of(u, link.a, link.b));
    answer.link_forces.push_back(vec3(-pulled.head<3>()));
    answer.link_moments.push_back(vec3(-pulled.tail<3>()));
    react(link.a, link.b, b.transpose() * pulled, answer);
  }
}

FrameAnswer Assembly::answer(const FrameLoads& loads) {
  FrameAnswer answer;
  if (!is_sound_) return answer;
  const Eigen::VectorXd f = pushes(loads);
  Eigen::VectorXd u = free_ > 0 ? Eigen::VectorXd(solver_.solve(f)) : f;
  if (!u.allFinite()) return answer;
  const std::vector<int> parted = bring_to_rest(u);
  if (!u.allFinite()) return answer;
  const std::size_t count = model_.nodes.size();
  answer.is_solved = true;
  answer.reactions.resize(count);
  answer.reaction_moments.resize(count);
  for (std::size_t n = 0; n < count; ++n) {
    const Vector six = moved_of(u, static_cast<int>(n), static_cast<int>(n));
    answer.moved.push_back(vec3(six.segment<3>(0)));
    answer.turned.push_back(vec3(six.segment<3>(3)));
  }
  tell_members(u, loads, answer);
  tell_links(u, parted, answer);
  for (const NodeLoad& load : loads.nodes) {
    answer.reactions[at(load.node)] += -load.force;
    answer.reaction_moments[at(load.node)] += -load.moment;
  }
  return answer;
}

}  // namespace

Profile rectangle(double width, double thickness) {
  const double area = width * thickness, a = std::max(width, thickness) / 2,
               b = std::min(width, thickness) / 2;
  const double ratio = a > 0 ? b / a : 0;
  return {.area = area,
          .shear_y = area * 5 / 6,
          .shear_z = area * 5 / 6,
          .inertia_y = width * thickness * thickness * thickness / 12,
          .inertia_z = thickness * width * width * width / 12,
          .torsion = a * b * b * b * (16.0 / 3 - 3.36 * ratio * (1 - std::pow(ratio, 4) / 12))};
}

std::vector<FrameAnswer> solve(const FrameModel& model, const std::vector<FrameLoads>& cases) {
  std::vector<FrameAnswer> answers;
  Assembly assembly(model);
  for (const FrameLoads& loads : cases) answers.push_back(assembly.answer(loads));
  return answers;
}

}  // namespace kw
