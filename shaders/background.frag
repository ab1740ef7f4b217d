#version 330 core
// A calm warm off-white, lighter at the upper left where the light is.
in vec2 v_screen;
out vec4 colour;
uniform vec3 light_side;
uniform vec3 dark_side;
// Less than one step of a screen's colours, so that soft gradients show no contours.
float dither() { return (fract(52.9829 * fract(dot(gl_FragCoord.xy, vec2(0.06711, 0.00584)))) - 0.5) / 255.0; }

void main() {
    float t = smoothstep(0.0, 1.25, distance(v_screen, vec2(0.30, 0.82)));
    colour = vec4(sqrt(mix(light_side, dark_side, t)) + dither(), 1.0);
}
