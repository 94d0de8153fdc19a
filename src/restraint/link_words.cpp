#include "link_words.hpp"

#include <utility>

namespace cellstow::restraint {

std::string formula_of(const std::string& name) {
  static constexpr std::pair<const char*, const char*> all[] = {
      {"strap leg pulled, full section", "T <= b t f_y / g_y"},
      {"strap pulled and bent over the block", "(s_m g_y / f_y)^2 + s_b g_y / (1.5 f_y) <= 1"},
      {"strap pulled at its bolt hole", "T <= 0.9 (b - d0) t f_u / g_u"},
      {"bolt bearing on the strap", "T <= k1 a f_u d t / g_u"},
      {"strap end torn out at the bolt", "T <= 2 (e1 - d0/2) t f_u / (sqrt 3 g_u)"},
      {"strap bolt in shear", "T <= 0.6 f_ub A_s / g_u"},
      {"hold-down bent", "w L^2 / (8 Z) <= f_y / g_y"},
      {"hold-down screw pulled", "F / 2 <= S_p A_s / g_y"},
      {"bolt shear", "V <= 0.6 f_ub A_s / g_u"},
      {"bolt tension", "N <= S_p A_s / g_y"},
      {"bolt shear and tension together", "V / V_R + N / (1.4 N_R) <= 1"},
      {"force on the fixing", "sqrt(V^2 + N^2) <= limit_n"},
      {"sheet bearing", "V <= 2.5 k_t f_u d t / g_u"},
      {"pull-through of the sheet", "N <= 0.6 pi d_m t f_u / g_u"}};
  for (const auto& [check, formula] : all)
    if (name == check) return formula;
  return {};
}

std::string case_in(const std::string& where) {
  const std::size_t comma = where.rfind(", ");
  const std::string last = comma == std::string::npos ? std::string() : where.substr(comma + 2);
  return last.starts_with("block ") || last.starts_with("fixing ") ? std::string() : last;
}

}  // namespace cellstow::restraint
