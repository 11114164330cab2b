#pragma once
// The programs that run on the graphics side; private to the folder.

namespace ridgeward::draw::shaders {

inline constexpr const char* shadow_vertex = R"(#version 330 core
layout(location = 0) in vec3 at;
uniform mat4 light;
uniform vec4 kept;  // half of space that stays of a cut house: normal, reach
void main() {
  gl_Position = light * vec4(at, 1.0);
  gl_ClipDistance[0] = kept.w - dot(kept.xyz, at);
}
)";

inline constexpr const char* shadow_fragment = R"(#version 330 core
void main() {}
)";

// The shadow on the ground: everything thrown onto it along the light.
inline constexpr const char* ground_vertex = R"(#version 330 core
layout(location = 0) in vec3 at;
uniform mat4 clip;
uniform vec3 lamp;
uniform float ground;
uniform vec4 kept;
void main() {
  gl_Position = clip * vec4(at - lamp * ((at.z - ground) / lamp.z), 1.0);
  gl_ClipDistance[0] = kept.w - dot(kept.xyz, at);
}
)";

inline constexpr const char* ground_fragment = R"(#version 330 core
uniform vec4 tint;
out vec4 colour;
void main() { colour = tint; }
)";

inline constexpr const char* face_vertex = R"(#version 330 core
layout(location = 0) in vec3 at;
layout(location = 1) in vec3 normal;
uniform mat4 clip;
uniform vec4 kept;
out vec3 place;
out vec3 outward;
void main() {
  place = at;
  outward = normal;
  gl_Position = clip * vec4(at, 1.0);
  gl_ClipDistance[0] = kept.w - dot(kept.xyz, at);
}
)";

// Light from the sky and the ground, and a lamp over the left shoulder that casts shadows.
inline constexpr const char* face_fragment = R"(#version 330 core
in vec3 place;
in vec3 outward;
uniform vec3 eye, lamp, tint, under_tint, hatch_tint;
uniform mat4 light;
uniform float alpha, scale, light_share;
uniform int hatch, lit;  // lit 0: a cut face, paper-plain
uniform sampler2DShadow shadow;
out vec4 colour;

float sunlit(vec3 n) {
  vec4 p = light * vec4(place + n * 0.05, 1.0);
  vec3 at = p.xyz * 0.5 + 0.5;
  if (any(lessThan(at, vec3(0.0))) || any(greaterThan(at, vec3(1.0)))) return 1.0;
  vec2 texel = 1.0 / vec2(textureSize(shadow, 0));
  vec2 reach = 0.8 / vec2(textureSize(shadow, 0));
  float deep = at.z - 0.0006;
  return 0.25 * (texture(shadow, vec3(at.xy + reach * vec2(-1.0, -0.4), deep)) +
                 texture(shadow, vec3(at.xy + reach * vec2(0.4, -1.0), deep)) +
                 texture(shadow, vec3(at.xy + reach * vec2(1.0, 0.4), deep)) +
                 texture(shadow, vec3(at.xy + reach * vec2(-0.4, 1.0), deep)));
}

float stripes(float across, float period) {
  float t = abs(fract(across / (period * scale)) - 0.5) * period * scale;
  return 1.0 - smoothstep(0.35 * scale, 1.25 * scale, t);
}

// As in draw::Hatch.
float marked() {
  float rising = (gl_FragCoord.x - gl_FragCoord.y) * 0.7071;
  float falling = (gl_FragCoord.x + gl_FragCoord.y) * 0.7071;
  if (hatch == 1) return stripes(falling, 9.0);
  if (hatch == 2) return max(stripes(falling, 9.0), stripes(rising, 9.0));
  if (hatch == 3) return stripes(rising, 9.0);
  if (hatch == 4) return stripes(gl_FragCoord.y, 9.0);
  if (hatch == 5) return stripes(gl_FragCoord.x, 9.0);
  if (hatch == 6) return stripes(rising, 4.5);
  if (hatch == 7) {  // wool: a wave
    float y = gl_FragCoord.y + 3.0 * scale * sin(gl_FragCoord.x * 0.55 / scale);
    return stripes(y, 10.0);
  }
  if (hatch == 8) {  // dots
    vec2 cell = (fract(gl_FragCoord.xy / (9.0 * scale)) - 0.5) * 9.0 * scale;
    return 1.0 - smoothstep(0.9 * scale, 1.7 * scale, length(cell));
  }
  return 0.0;
}

void main() {
  vec3 n = normalize(outward);
  bool from_under = dot(n, eye - place) < 0.0;
  if (from_under) n = -n;
  float facing = max(dot(n, lamp), 0.0);
  float sun = facing * (facing > 0.0 ? sunlit(n) : 0.0);
  float sky = 0.5 + 0.5 * n.z;
  vec3 light_here = mix(vec3(0.70, 0.68, 0.66), vec3(0.76, 0.79, 0.83), sky) + sun * vec3(0.40, 0.38, 0.34);
  if (lit == 0) light_here = vec3(1.0);
  vec4 paint = vec4(from_under ? under_tint : tint, alpha);
  paint = mix(paint, vec4(hatch_tint, 0.85), marked());
  vec3 shade = min(paint.rgb * light_here * light_share, vec3(1.0));
  colour = vec4(shade, paint.a);
}
)";

// A stroke is a ribbon of constant width on the screen, a little nearer to the eye than what it
// lies on.
inline constexpr const char* stroke_vertex = R"(#version 330 core
layout(location = 0) in vec3 from;
layout(location = 1) in vec3 to;
layout(location = 2) in vec4 tint;
layout(location = 3) in vec3 pen;  // width, drawn, left out
uniform mat4 view, projection;
uniform vec2 size;
uniform float near_m, pull, flat_pull;  // flat: straight towards the eye, by metres
uniform vec4 kept;
out vec4 colour;
noperspective out float across;
noperspective out float along;
flat out vec3 dash;  // half width, drawn, left out
void main() {
  vec3 a = (view * vec4(from, 1.0)).xyz;
  vec3 b = (view * vec4(to, 1.0)).xyz;
  vec3 nearer = vec3(0.0, 0.0, flat_pull);
  a = flat_pull > 0.0 ? a + nearer : a * pull;
  b = flat_pull > 0.0 ? b + nearer : b * pull;
  if (a.z > -near_m && b.z < -near_m) a = mix(b, a, (-near_m - b.z) / (a.z - b.z));
  if (b.z > -near_m && a.z < -near_m) b = mix(a, b, (-near_m - a.z) / (b.z - a.z));
  vec4 pa = projection * vec4(a, 1.0);
  vec4 pb = projection * vec4(b, 1.0);
  vec2 sa = pa.xy / pa.w * size * 0.5;
  vec2 sb = pb.xy / pb.w * size * 0.5;
  float reach = length(sb - sa);
  vec2 way = reach > 1e-4 ? (sb - sa) / reach : vec2(1.0, 0.0);
  vec2 side = vec2(-way.y, way.x);
  float half_width = pen.x * 0.5;
  float cap = half_width * 0.8;
  float hand = (gl_VertexID & 1) == 0 ? -1.0 : 1.0;
  bool first = gl_VertexID < 2;
  vec2 offset = side * hand * (half_width + 1.0) + way * (first ? -cap : cap);
  vec4 p = first ? pa : pb;
  gl_Position = vec4(p.xy + offset / (size * 0.5) * p.w, p.zw);
  gl_ClipDistance[0] = kept.w - dot(kept.xyz, first ? from : to);
  across = hand * (half_width + 1.0);
  along = first ? -cap : reach + cap;
  dash = vec3(half_width, pen.yz);
  colour = tint;
}
)";

inline constexpr const char* stroke_fragment = R"(#version 330 core
in vec4 colour;
noperspective in float across;
noperspective in float along;
flat in vec3 dash;
out vec4 paint;
void main() {
  float cover = clamp(dash.x + 0.5 - abs(across), 0.0, 1.0);
  float period = dash.y + dash.z;
  if (dash.z > 0.0) {
    float t = mod(along, period);
    cover *= clamp(min(t, dash.y - t) + 0.5, 0.0, 1.0);
  }
  if (cover <= 0.004) discard;
  paint = vec4(colour.rgb, colour.a * cover);
}
)";

}  // namespace ridgeward::draw::shaders
