#pragma once
/// Small tables for reader tests. The rows are invented and say so: no strength is checked here.

#include <filesystem>
#include <string>

#include "cellstow/survey/catalogue.hpp"

namespace cellstow::survey::testing {

inline Material invented_material(const std::string& name) {
  Material material;
  material.name = name;
  material.density_kg_per_m3 = 2700;
  material.elastic_modulus = Mpa::of(70'000);
  material.proof_strength = Mpa::of(100);
  material.ultimate_strength = Mpa::of(200);
  material.source = "invented for a test";
  material.status = "invented";
  return material;
}

inline Catalogue small_tables() {
  Catalogue tables;
  for (const char* name : {"EN AW-5754 H22", "EN AW-6061 T6", "S235"})
    tables.materials[name] = invented_material(name);
  tables.fastener_classes["8.8"] = {"8.8", Mpa::of(800), Mpa::of(580), "invented for a test",
                                    "invented"};
  for (const char* name : {"M6", "M8", "M10", "5/16-18"}) tables.threads[name].name = name;
  tables.load_case_sets["usual"] = {"usual",
                                    {{"forward", {AccelG::of(-20), AccelG::of(0), AccelG::of(0)}},
                                     {"upward", {AccelG::of(0), AccelG::of(0), AccelG::of(10)}}},
                                    "invented for a test",
                                    "invented"};
  tables.default_load_case_set = "usual";
  return tables;
}

inline std::filesystem::path tests_folder() {
  return std::filesystem::path(CELLSTOW_TESTS_DIR) / "survey";
}

}  // namespace cellstow::survey::testing
