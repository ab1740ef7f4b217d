#version 330 core
// Clay: a warm key light with a soft shadow, a cool fill, dark crevices, veins and grain pressed into the surface.
// Colours are linear; the last line goes to the screen by a square root, the inverse of how the palette is given.
in vec3 v_position;
in vec3 v_normal;
in vec3 v_chart;
in vec2 v_uv;
in vec3 v_shadow;
in float v_open;
out vec4 colour;

uniform vec3 eye;
uniform vec3 key_direction;
uniform vec3 base;
uniform vec3 cavity_colour;
uniform float cavity_stain; // how much of a wash stays in hollows
uniform float sheen;        // wet clay shines a little
uniform float tone;
uniform float grain_depth;
uniform float relief_depth; // 0: no relief map
uniform vec4 relief_frame;  // uv in mm -> texture: scale, offset
uniform vec2 grain_offset;
uniform float open_shade;   // 0: nothing lies on the slab
uniform vec4 shade_frame;   // chart -> texture: scale, offset
uniform float shade_range_mm;
uniform vec4 hatch;         // colour, strength
uniform float shadow_step;  // one step of the soft edge, in the map's own units
uniform float map_strength; // 1: coloured by a figure that is spread over the clay
uniform vec4 map_frame;     // chart -> texture: scale, offset
uniform vec2 map_scale;     // lowest value, one over the span
uniform int map_level_count;
uniform float map_levels[24]; // values that get a line
uniform float map_line_px;

uniform sampler2D relief_map; // slopes along u and v, hollow
uniform sampler2D grain_map;  // slopes, tone
uniform sampler2D shade_map;  // height of the stack, smoothed narrow and wide
uniform sampler2DShadow shadow_map;
uniform sampler2D map_values;  // value and 1, or 0 and 0 where there is none
uniform sampler2D map_colours; // as a screen shows them

float lit() {
    vec3 s = v_shadow;
    float d = shadow_step;
    float sum = texture(shadow_map, s + vec3(d, 0.4 * d, 0.0)) + texture(shadow_map, s + vec3(-0.4 * d, d, 0.0)) +
                texture(shadow_map, s + vec3(-d, -0.4 * d, 0.0)) + texture(shadow_map, s + vec3(0.4 * d, -d, 0.0));
    if (sum < 0.001 || sum > 3.999) return sum * 0.25;
    d *= 2.0;
    sum += texture(shadow_map, s + vec3(d, -0.5 * d, 0.0)) + texture(shadow_map, s + vec3(0.5 * d, d, 0.0)) +
           texture(shadow_map, s + vec3(-d, 0.5 * d, 0.0)) + texture(shadow_map, s + vec3(-0.5 * d, -d, 0.0));
    return sum * 0.125;
}

float hatching() {
    float along = (v_chart.x + v_chart.y) * 0.7071 / 6.0;
    float wide = fwidth(along);
    float off = abs(fract(along) - 0.5) * 2.0;
    return smoothstep(0.72 - wide * 2.0, 0.72 + wide * 2.0, off);
}

// How much of a line of equal value lies here: as wide on the screen everywhere.
float level_line(float value) {
    float per_pixel = max(fwidth(value), 1e-6 / max(map_scale.y, 1e-9));
    float line = 0.0;
    for (int i = 0; i < map_level_count; ++i) {
        float off = abs(value - map_levels[i]) / per_pixel;
        line = max(line, clamp(0.5 + 0.5 * map_line_px - off, 0.0, 1.0));
    }
    return line;
}

// The figure's colour in place of the clay's; light and shade stay, without the tint of the lamp.
vec3 mapped(vec3 plain, vec3 light, float cavity, float grain_tone) {
    vec2 found = texture(map_values, v_chart.xy * map_frame.xy + map_frame.zw).rg;
    float value = found.r / max(found.g, 1e-3);
    float line = level_line(value);
    if (found.g < 0.5) return plain;
    vec3 paint = texture(map_colours, vec2(clamp((value - map_scale.x) * map_scale.y, 0.002, 0.998), 0.5)).rgb;
    float bright = dot(light, vec3(0.30, 0.59, 0.11)) / 1.22;
    vec3 shown = paint * paint * tone * mix(1.0, bright, 0.85) * (1.0 - 0.35 * cavity) * (0.96 + 0.08 * grain_tone);
    return mix(shown, shown * 0.16, line * 0.85);
}

void main() {
    vec3 n = normalize(v_normal);
    if (!gl_FrontFacing) n = -n;

    vec3 grain = texture(grain_map, v_uv * (1.0 / 72.0) + grain_offset).xyz;
    vec2 slope = (grain.xy - 0.5) * grain_depth;
    float hollow = 0.0;
    if (relief_depth > 0.0) {
        vec3 relief = texture(relief_map, v_uv * relief_frame.xy + relief_frame.zw).xyz;
        slope += (relief.xy - 0.5) * (2.0 * relief_depth);
        hollow = relief.z;
    }
    // The directions of u and v on the surface, from how both change over the screen.
    vec3 px = dFdx(v_position), py = dFdy(v_position);
    vec2 ux = dFdx(v_uv), uy = dFdy(v_uv);
    float turn = ux.x * uy.y - ux.y * uy.x;
    float inverse = abs(turn) > 1e-12 ? 1.0 / turn : 0.0;
    vec3 along_u = (px * uy.y - py * ux.y) * inverse;
    vec3 along_v = (py * ux.x - px * uy.x) * inverse;
    // Where the drawing is stretched thin, as on a steep edge, the slope counts no more than on the flat.
    along_u *= min(1.0, 1.3 * inversesqrt(dot(along_u, along_u) + 1e-9));
    along_v *= min(1.0, 1.3 * inversesqrt(dot(along_v, along_v) + 1e-9));
    n = normalize(n - slope.x * along_u - slope.y * along_v);

    float open = v_open;
    if (open_shade > 0.0) {
        vec2 around = texture(shade_map, v_chart.xy * shade_frame.xy + shade_frame.zw).rg * shade_range_mm;
        vec2 deeper = clamp((around - v_chart.z - vec2(0.25, 0.5)) * vec2(0.15, 0.085), 0.0, 1.0);
        open *= 1.0 - open_shade * (0.62 * deeper.x + 0.38 * deeper.y * (1.0 - deeper.x * 0.5));
    }
    float cavity = clamp(hollow + (1.0 - open) * 0.6, 0.0, 1.0);
    vec3 albedo = mix(base, cavity_colour, min(1.0, cavity * cavity_stain)) * tone * (0.93 + 0.14 * grain.z);
    if (hatch.w > 0.0) albedo = mix(albedo, hatch.rgb, hatch.w * hatching());

    float facing = dot(n, key_direction);
    float key = clamp(facing * 0.94 + 0.06, 0.0, 1.0);
    if (key > 0.0) key *= lit();
    vec3 sky = mix(vec3(0.17, 0.145, 0.13), vec3(0.33, 0.365, 0.42), 0.5 + 0.5 * dot(n, vec3(0.25, 0.35, 0.90)));
    float kept = open * open * (1.0 - 0.45 * hollow);
    vec3 light = key * (0.55 + 0.45 * open) * vec3(1.24, 1.14, 0.99) + sky * kept;
    // Light that clay throws from wall to wall of a crevice keeps its colour.
    light += albedo * (1.0 - open) * 0.10;
    vec3 shown = albedo * light;

    vec3 to_eye = normalize(eye - v_position);
    float glint = max(dot(n, normalize(to_eye + key_direction)), 0.0);
    glint *= glint;
    glint *= glint;
    glint *= glint;
    shown += sheen * open * (glint * glint * (0.25 + key) * 0.5 + 0.12 * glint * key);
    if (map_strength > 0.0) shown = mix(shown, mapped(shown, light, cavity, grain.z), map_strength);
    colour = vec4(sqrt(shown), 1.0);
}
