#include "view/gl.h"

#include "base/assets.h"

#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <string>

namespace leafwright {
namespace {

std::string shader_text(std::string_view file) {
    std::string const path = "shaders/" + std::string(file);
    std::string_view const text = asset_text(path);
    assert(text.data() != nullptr);
    return std::string(text);
}

[[noreturn]] void stop_with(std::string_view file, char const* message) {
    std::fprintf(stderr, "shader %.*s:\n%s\n", static_cast<int>(file.size()), file.data(), message);
    std::abort();
}

GLuint compiled(GLenum kind, std::string_view file) {
    std::string const text = shader_text(file);
    char const* const source = text.c_str();
    GLuint const shader = glCreateShader(kind);
    glShaderSource(shader, 1, &source, nullptr);
    glCompileShader(shader);
    GLint good = 0;
    glGetShaderiv(shader, GL_COMPILE_STATUS, &good);
    if (!good) {
        char message[2048] = "";
        glGetShaderInfoLog(shader, sizeof message, nullptr, message);
        stop_with(file, message);
    }
    return shader;
}

void attribute(GLuint index, GLint size, GLenum type, bool normalized, std::size_t offset) {
    glEnableVertexAttribArray(index);
    glVertexAttribPointer(index, size, type, normalized ? GL_TRUE : GL_FALSE, sizeof(MeshVertex),
                          reinterpret_cast<void const*>(offset));
}

} // namespace

void delete_buffer(GLuint name) { glDeleteBuffers(1, &name); }
void delete_array(GLuint name) { glDeleteVertexArrays(1, &name); }
void delete_texture(GLuint name) { glDeleteTextures(1, &name); }
void delete_program(GLuint name) { glDeleteProgram(name); }
void delete_framebuffer(GLuint name) { glDeleteFramebuffers(1, &name); }

GlBuffer make_buffer() {
    GLuint name = 0;
    glGenBuffers(1, &name);
    return GlBuffer(name);
}
GlArray make_array() {
    GLuint name = 0;
    glGenVertexArrays(1, &name);
    return GlArray(name);
}
GlTexture make_texture() {
    GLuint name = 0;
    glGenTextures(1, &name);
    return GlTexture(name);
}
GlFramebuffer make_framebuffer() {
    GLuint name = 0;
    glGenFramebuffers(1, &name);
    return GlFramebuffer(name);
}

Program::Program(std::string_view vertex, std::string_view fragment, std::string_view geometry)
    : program_(glCreateProgram()) {
    std::vector<GLuint> shaders{compiled(GL_VERTEX_SHADER, vertex), compiled(GL_FRAGMENT_SHADER, fragment)};
    if (!geometry.empty()) shaders.push_back(compiled(GL_GEOMETRY_SHADER, geometry));
    for (GLuint const shader : shaders) glAttachShader(program_.name(), shader);
    glLinkProgram(program_.name());
    GLint good = 0;
    glGetProgramiv(program_.name(), GL_LINK_STATUS, &good);
    if (!good) {
        char message[2048] = "";
        glGetProgramInfoLog(program_.name(), sizeof message, nullptr, message);
        stop_with(fragment, message);
    }
    for (GLuint const shader : shaders) {
        glDetachShader(program_.name(), shader);
        glDeleteShader(shader);
    }
}

void Program::use() const { glUseProgram(program_.name()); }

void Program::set(char const* name, float value) const {
    glUniform1f(glGetUniformLocation(program_.name(), name), value);
}
void Program::set(char const* name, int value) const {
    glUniform1i(glGetUniformLocation(program_.name(), name), value);
}
void Program::set(char const* name, glm::vec2 const& v) const {
    glUniform2f(glGetUniformLocation(program_.name(), name), v.x, v.y);
}
void Program::set(char const* name, glm::vec3 const& v) const {
    glUniform3f(glGetUniformLocation(program_.name(), name), v.x, v.y, v.z);
}
void Program::set(char const* name, glm::vec4 const& v) const {
    glUniform4f(glGetUniformLocation(program_.name(), name), v.x, v.y, v.z, v.w);
}
void Program::set(char const* name, glm::mat4 const& m) const {
    glUniformMatrix4fv(glGetUniformLocation(program_.name(), name), 1, GL_FALSE, &m[0][0]);
}
void Program::set(char const* name, std::span<float const> values) const {
    if (values.empty()) return;
    glUniform1fv(glGetUniformLocation(program_.name(), name), static_cast<GLsizei>(values.size()), values.data());
}

GpuMesh::GpuMesh(Mesh const& mesh) : array_(make_array()), vertices_(make_buffer()), indices_(make_buffer()) {
    glBindVertexArray(array_.name());
    glBindBuffer(GL_ARRAY_BUFFER, vertices_.name());
    glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, indices_.name());
    attribute(0, 3, GL_FLOAT, false, offsetof(MeshVertex, position));
    attribute(1, 3, GL_FLOAT, false, offsetof(MeshVertex, flat));
    attribute(2, 4, GL_BYTE, true, offsetof(MeshVertex, normal));
    attribute(3, 4, GL_BYTE, true, offsetof(MeshVertex, flat_normal));
    attribute(4, 2, GL_FLOAT, false, offsetof(MeshVertex, uv));
    update(mesh, false);
}

void GpuMesh::update(Mesh const& mesh, bool same_net) {
    glBindVertexArray(array_.name());
    glBindBuffer(GL_ARRAY_BUFFER, vertices_.name());
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(mesh.vertices.size() * sizeof(MeshVertex)),
                 mesh.vertices.data(), GL_DYNAMIC_DRAW);
    if (!same_net) {
        glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(mesh.indices.size() * sizeof(std::uint32_t)),
                     mesh.indices.data(), GL_STATIC_DRAW);
        count_ = static_cast<GLsizei>(mesh.indices.size());
    }
    glBindVertexArray(0);
}

void GpuMesh::draw() const { draw(0, static_cast<std::size_t>(count_)); }

void GpuMesh::draw(std::size_t first_index, std::size_t count) const {
    if (count == 0 || count_ == 0) return;
    glBindVertexArray(array_.name());
    glDrawElements(GL_TRIANGLES, static_cast<GLsizei>(count), GL_UNSIGNED_INT,
                   reinterpret_cast<void const*>(first_index * sizeof(std::uint32_t)));
}

} // namespace leafwright
