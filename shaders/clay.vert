#version 330 core
// A part of clay, anywhere between laid over the former (flatness 0) and laid flat (1).
layout(location = 0) in vec3 position;
layout(location = 1) in vec3 flat_position; // chart x, chart y, height above the slab's outer face
layout(location = 2) in vec4 normal;        // w: how open the place is
layout(location = 3) in vec4 flat_normal;
layout(location = 4) in vec2 uv;

uniform mat4 view_projection;
uniform mat4 shadow_matrix;
uniform float flatness;
uniform float lift; // of the piece, so that the surface's board is at z = 0, mm
uniform float flat_base; // height of the slab's outer face above the board when flat, mm
uniform float scale;     // size now, of the wet size

out vec3 v_position;
out vec3 v_normal;
out vec3 v_chart;
out vec2 v_uv;
out vec3 v_shadow;
out float v_open;

void main() {
    vec3 p = mix(position + vec3(0.0, 0.0, lift), flat_position + vec3(0.0, 0.0, flat_base), flatness) * scale;
    vec3 n = mix(normal.xyz, flat_normal.xyz, flatness);
    v_position = p;
    v_normal = n;
    v_chart = flat_position;
    v_uv = uv;
    v_open = mix(normal.w, flat_normal.w, flatness);
    // Moved outward a little, so that the clay does not shade itself.
    v_shadow = (shadow_matrix * vec4(p + normalize(n) * 0.9, 1.0)).xyz;
    gl_Position = view_projection * vec4(p, 1.0);
}
