#version 330 core
in vec3 v_position;
in vec3 v_normal;
in vec2 v_uv;
in float v_open;
out vec4 colour;
uniform vec3 key_direction;
uniform vec3 tint;
uniform sampler2D wood_map;
uniform sampler2D ground_map;
uniform float ground_half_mm;
uniform float on_ground; // 1: takes the ground's shadow
// Less than one step of a screen's colours, so that soft gradients show no contours.
float dither() { return (fract(52.9829 * fract(dot(gl_FragCoord.xy, vec2(0.06711, 0.00584)))) - 0.5) / 255.0; }

void main() {
    vec3 n = normalize(v_normal);
    vec3 wood = texture(wood_map, v_uv).rgb;
    wood *= wood * tint;
    vec2 shade = vec2(0.0);
    if (on_ground > 0.0) {
        shade = texture(ground_map, v_position.xy / (2.0 * ground_half_mm) + 0.5).rg;
        shade *= smoothstep(0.5, 0.9, n.z);
    }
    float key = clamp(dot(n, key_direction), 0.0, 1.0) * (1.0 - 0.88 * shade.r);
    vec3 sky = mix(vec3(0.22, 0.19, 0.16), vec3(0.37, 0.40, 0.45), 0.5 + 0.5 * n.z);
    vec3 light = key * vec3(1.12, 1.04, 0.92) + sky * (1.0 - 0.72 * shade.g) * v_open;
    colour = vec4(sqrt(wood * light) + dither(), 1.0);
}
