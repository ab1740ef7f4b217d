#version 330 core
// One triangle over the whole viewport, at the far end of the depth range.
out vec2 v_screen; // 0 to 1
void main() {
    vec2 corner = vec2(gl_VertexID == 1 ? 3.0 : -1.0, gl_VertexID == 2 ? 3.0 : -1.0);
    v_screen = corner * 0.5 + 0.5;
    gl_Position = vec4(corner, 1.0, 1.0);
}
