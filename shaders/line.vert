#version 330 core
layout(location = 0) in vec3 position;
layout(location = 1) in vec3 flat_position;
layout(location = 2) in float along; // mm from the line's start
uniform mat4 view_projection;
uniform float flatness;
uniform float lift; // of the piece, so that the surface's board is at z = 0, mm
uniform float flat_base;
uniform float scale;
out float g_along;
void main() {
    g_along = along;
    gl_Position = view_projection * vec4(mix(position + vec3(0.0, 0.0, lift), flat_position + vec3(0.0, 0.0, flat_base), flatness) * scale, 1.0);
}
