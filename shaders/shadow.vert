#version 330 core
// The same parts as seen from the light, or from straight above.
layout(location = 0) in vec3 position;
layout(location = 1) in vec3 flat_position;

uniform mat4 shadow_matrix;
uniform float flatness;
uniform float lift; // of the piece, so that the surface's board is at z = 0, mm
uniform float flat_base;
uniform float scale;

void main() {
    vec3 p = mix(position + vec3(0.0, 0.0, lift), flat_position + vec3(0.0, 0.0, flat_base), flatness) * scale;
    gl_Position = shadow_matrix * vec4(p, 1.0);
}
