#version 330 core
// Red: what the key light does not reach on the ground plane.
in vec2 v_screen;
out vec4 colour;
uniform sampler2DShadow shadow_map;
uniform mat4 shadow_matrix;
uniform float ground_half_mm;
uniform float ground_z_mm;
void main() {
    vec3 p = vec3((v_screen * 2.0 - 1.0) * ground_half_mm, ground_z_mm);
    vec3 s = (shadow_matrix * vec4(p, 1.0)).xyz;
    bool outside = any(lessThan(s, vec3(0.0))) || any(greaterThan(s, vec3(1.0)));
    colour = vec4(outside ? 0.0 : 1.0 - texture(shadow_map, s), 0.0, 0.0, 1.0);
}
