#version 330 core
// A calm warm off-white, lighter at the upper left where the light is.
in vec2 v_screen;
out vec4 colour;
uniform vec3 light_side;
uniform vec3 dark_side;
void main() {
    float t = smoothstep(0.0, 1.25, distance(v_screen, vec2(0.30, 0.82)));
    colour = vec4(sqrt(mix(light_side, dark_side, t)), 1.0);
}
