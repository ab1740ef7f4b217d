#version 330 core
// One of two passes of a soft blur; red narrow, green wide.
in vec2 v_screen;
out vec4 colour;
uniform sampler2D source;
uniform vec2 narrow_step; // along one axis, texture units
uniform vec2 wide_step;
void main() {
    vec2 sum = vec2(0.0);
    float weight = 0.0;
    for (int i = -4; i <= 4; ++i) {
        float w = exp(-0.14 * float(i * i));
        sum.r += w * texture(source, v_screen + narrow_step * float(i)).r;
        sum.g += w * texture(source, v_screen + wide_step * float(i)).g;
        weight += w;
    }
    colour = vec4(sum / weight, 0.0, 1.0);
}
