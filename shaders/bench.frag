#version 330 core
// The bench top: the background itself with the board's shadow on it. Or the wall: plaster with the piece's shadow.
in vec3 v_position;
in vec2 v_uv;
out vec4 colour;
uniform vec3 light_side;
uniform vec3 dark_side;
uniform vec4 viewport; // x, y, 1/width, 1/height, pixels
uniform vec2 board_half_mm;
uniform vec2 board_shift_mm; // of its shadow
uniform float wall;          // 1: a wall
uniform float ground_half_mm;
uniform vec3 eye;
uniform sampler2D ground_map;
uniform sampler2D grain_map;

float box_distance(vec2 p, vec2 half_size, float corner) {
    vec2 q = abs(p) - half_size + corner;
    return length(max(q, 0.0)) + min(max(q.x, q.y), 0.0) - corner;
}

// Less than one step of a screen's colours, so that soft gradients show no contours.
float dither() { return (fract(52.9829 * fract(dot(gl_FragCoord.xy, vec2(0.06711, 0.00584)))) - 0.5) / 255.0; }

void main() {
    vec2 screen = (gl_FragCoord.xy - viewport.xy) * viewport.zw;
    float t = smoothstep(0.0, 1.25, distance(screen, vec2(0.30, 0.82)));
    vec3 shown = mix(light_side, dark_side, t);
    if (wall > 0.0) {
        float near = 1.0 - smoothstep(900.0, 3000.0, distance(eye, v_position));
        vec2 trowel = texture(grain_map, v_position.xy / 1100.0).xy - 0.5;
        vec2 fine = texture(grain_map, v_position.yx / 170.0).xy - 0.5;
        shown *= 1.0 + near * (0.045 * (trowel.y - trowel.x) + 0.04 * (fine.y - fine.x));
        vec2 inside = abs(v_position.xy) / ground_half_mm;
        if (max(inside.x, inside.y) < 1.0) {
            vec2 shade = texture(ground_map, v_position.xy / (2.0 * ground_half_mm) + 0.5).rg;
            shown *= (1.0 - shade.r * vec3(0.50, 0.52, 0.54)) * (1.0 - 0.38 * shade.g);
        }
    } else {
        float d = box_distance(v_position.xy - board_shift_mm, board_half_mm, 14.0);
        float c = box_distance(v_position.xy, board_half_mm, 14.0);
        float key = 1.0 - smoothstep(-12.0, 26.0, d);
        float contact = 1.0 - smoothstep(-6.0, 40.0, c);
        shown *= (1.0 - key * vec3(0.40, 0.42, 0.43)) * (1.0 - 0.22 * contact * contact);
    }
    colour = vec4(sqrt(shown) + dither(), 1.0);
}
