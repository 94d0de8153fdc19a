#pragma once
/// Runs of CalculiX (ccx), a general finite-element program, on meshes written here. Units N, mm, MPa.

#include <array>
#include <map>
#include <string>
#include <vector>

namespace finite_element {

struct Result {
  std::map<int, std::array<double, 3>> moved;                     ///< by mesh point, last step
  std::map<int, std::vector<std::array<double, 6>>> stress;       ///< by element: xx, yy, zz, xy, xz, yz at its inner points
};

/// Runs one input deck. Throws when ccx is not there or ends without a result: a test without it must fail.
Result run(const std::string& name, const std::string& deck);

/// A flat patch of eight-cornered shells, a along and b across, `from` its corner, spanned by two unit directions.
class Mesh {
 public:
  void patch(std::array<double, 3> from, std::array<double, 3> along, std::array<double, 3> across, double a, double b, int na, int nb,
             double thickness, const std::string& set);
  int at(double x, double y, double z) const;                     ///< the mesh point there
  std::vector<int> where(int axis, double value) const;           ///< all with that coordinate
  /// Points and elements, with one elastic material.
  std::string text(double modulus, double poisson) const;
  int elements() const { return static_cast<int>(corners_.size()); }

 private:
  int point(std::array<double, 3> at);
  std::map<std::array<long long, 3>, int> points_;
  std::vector<std::array<double, 3>> places_;
  std::vector<std::array<int, 8>> corners_;
  std::vector<std::pair<std::string, std::vector<int>>> sets_;
  std::vector<double> thickness_;
};

}  // namespace finite_element
