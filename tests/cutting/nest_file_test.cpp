#include "cutting/nest_file.h"

#include "near.h"

#include <filesystem>
#include <fstream>
#include <sstream>

using namespace leafwright;

TEST_CASE("Items are read in the benchmark's form, and in the forms near it") {
    Outcome<NestFile> const file = nest_file_from_json(R"({ "name": "two", "strip_height": 30, "items": [
        { "id": 0, "demand": 3, "allowed_orientations": [0, 90], "shape": { "type": "simple_polygon", "data": [[0,0],[10,0],[10,5],[0,0]] } },
        { "id": 1, "shape": { "type": "polygon", "data": { "outer": [[0,0],[9,0],[9,9],[0,9]], "inner": [[[2,2],[4,2],[4,4]]] } }, "other": {} } ] })");
    REQUIRE_MESSAGE(file.ok(), (file.ok() ? std::string() : file.problem().sentence()));
    CHECK(file->name == "two");
    CHECK(file->job.sheets.width_mm == 30);
    REQUIRE(file->job.shapes.size() == 2);
    CHECK(file->job.shapes[0].copies == 3);
    CHECK(file->job.shapes[0].turns_deg == std::vector<double>{0, 90});
    CHECK(file->job.shapes[0].turn_play_deg == 0);
    CHECK(file->job.shapes[1].copies == 1);
    CHECK(file->job.shapes[1].turn_play_deg == 180); // nothing said: any turn
    CHECK(file->job.shapes[1].outline.holes.size() == 1);
}

TEST_CASE("Files that cannot be read are answered with the place of the fault") {
    auto const where = [](char const* text) {
        Outcome<NestFile> const file = nest_file_from_json(text);
        REQUIRE_FALSE(file.ok());
        return file.problem().where;
    };
    CHECK(where("{\n\"items\": [,]}") == "line 2");
    CHECK(where("[]") == "");
    CHECK(where("{}") == "strip_height");
    CHECK(where(R"({"strip_height": 5})") == "items");
    CHECK(where(R"({"strip_height": 5, "items": [{}]})") == "items[0]");
    CHECK(where(R"({"strip_height": 5, "items": [{"shape": [[0,0],[1]]}]})") == "items[0].shape[1]");
    CHECK(where(R"({"strip_height": 5, "items": [{"demand": 1.5, "shape": [[0,0],[1,0],[0,1]]}]})") ==
          "items[0].demand");
    CHECK(where(R"({"strip_height": 5, "items": [{"shape": {"data": [[0,0],["a",0],[0,1]]}}]})") ==
          "items[0].shape.data[1][0]");
    CHECK_FALSE(nest_file_from_json(std::string(100000, '[')).ok());
}
