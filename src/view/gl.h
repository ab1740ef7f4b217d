// OpenGL objects that clean up after themselves. All need a current 3.3 core context, at destruction too.
#pragma once

#include "view/mesh.h"

#include <epoxy/gl.h>

#include <glm/mat4x4.hpp>

#include <memory>
#include <span>
#include <string_view>

namespace leafwright {

// Owns one name; Delete is one of the functions below.
template <void (*Delete)(GLuint)> class GlName {
public:
    GlName() = default;
    explicit GlName(GLuint name) : name_(name) {}
    ~GlName() { drop(); }
    GlName(GlName&& other) noexcept : name_(other.name_) { other.name_ = 0; }
    GlName& operator=(GlName&& other) noexcept {
        std::swap(name_, other.name_);
        return *this;
    }
    GLuint name() const { return name_; }

private:
    void drop() {
        if (name_ != 0) Delete(name_);
    }
    GLuint name_ = 0;
};

void delete_buffer(GLuint name);
void delete_array(GLuint name);
void delete_texture(GLuint name);
void delete_program(GLuint name);
void delete_framebuffer(GLuint name);

using GlBuffer = GlName<delete_buffer>;
using GlArray = GlName<delete_array>;
using GlTexture = GlName<delete_texture>;
using GlProgramName = GlName<delete_program>;
using GlFramebuffer = GlName<delete_framebuffer>;

GlBuffer make_buffer();
GlArray make_array();
GlTexture make_texture();
GlFramebuffer make_framebuffer();

// Vertex and fragment shader (and geometry shader, if named) of shaders/, linked. The shaders are ours: one that does
// not compile is a fault of the program and stops it with the driver's message.
class Program {
public:
    Program() = default;
    Program(std::string_view vertex, std::string_view fragment, std::string_view geometry = {});
    void use() const;
    void set(char const* name, float value) const;
    void set(char const* name, int value) const;
    void set(char const* name, glm::vec2 const& value) const;
    void set(char const* name, glm::vec3 const& value) const;
    void set(char const* name, glm::vec4 const& value) const;
    void set(char const* name, glm::mat4 const& value) const;
    void set(char const* name, std::span<float const> values) const; // of an array

private:
    GlProgramName program_;
};

// A mesh on the graphics side.
class GpuMesh {
public:
    GpuMesh() = default;
    explicit GpuMesh(Mesh const& mesh);
    // New contents in the same buffers; indices are kept when the count of vertices is the same and `same_net` holds.
    void update(Mesh const& mesh, bool same_net);
    void draw() const;
    void draw(std::size_t first_index, std::size_t count) const;
    std::size_t triangles() const { return count_ / 3; }
    explicit operator bool() const { return count_ > 0; }

private:
    GlArray array_;
    GlBuffer vertices_;
    GlBuffer indices_;
    GLsizei count_ = 0;
};

} // namespace leafwright
