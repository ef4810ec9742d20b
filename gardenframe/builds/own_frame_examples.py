"""Examples of own frames, as a reader would write them. All of Millbrook Lane garden, which is invented."""

from collections.abc import Mapping
from typing import Any

SCREEN = {
    "joints": """joint,x_m,y_m,z_m
a0,0,0,0
a1,0,0,0.25
a2,0,0,1.5
b0,1.2,0,0
b1,1.2,0,0.25
b2,1.2,0,1.5
c0,2.4,0,0
c1,2.4,0,0.25
c2,2.4,0,1.5""",
    "runs": """run,member,path
left post,1 in,a0 a2
middle post,1 in,b0 b2
right post,1 in,c0 c2
low rail,1 in,a1 c1
top rail,1 in,a2 c2""",
    "coverings": """panel,corners,covering,plant,side
screen,a1 c1 c2 a2,trellis-net-150,sweet-pea,wall""",
}
BENCH = {
    "joints": """joint,x_m,y_m,z_m
a0,0,0,0
a1,0,0,0.3
a2,0,0,0.9
b0,1.5,0,0
b1,1.5,0,0.3
b2,1.5,0,0.9
c0,1.5,0.6,0
c1,1.5,0.6,0.3
c2,1.5,0.6,0.9
d0,0,0.6,0
d1,0,0.6,0.3
d2,0,0.6,0.9""",
    "runs": """run,member,path,role
leg a,1 in,a0 a2,leg
leg b,1 in,b0 b2,leg
leg c,1 in,c0 c2,leg
leg d,1 in,d0 d2,leg
shelf front,1 in,a1 b1,shelf rail
shelf back,1 in,d1 c1,shelf rail
shelf left,1 in,a1 d1,shelf rail
shelf right,1 in,b1 c1,shelf rail
top front,1 in,a2 b2,rail
top back,1 in,d2 c2,rail
top left,1 in,a2 d2,rail
top right,1 in,b2 c2,rail""",
    "coverings": "",
}
RACK = {
    "joints": """joint,x_m,y_m,z_m
a0,0,0,0
a1,0,0,0.5
a2,0,0,1.1
a3,0,0,1.6
b0,1.8,0,0
b1,1.8,0,0.5
b2,1.8,0,1.1
b3,1.8,0,1.6
e0,0,0.7,0
f0,1.8,0.7,0
e1,0,0,1.3
f1,1.8,0,1.3
e2,0.9,0,0.5
e3,0.9,0,1.1""",
    "runs": """run,member,path,role
left post,1 in,a0 a3,post
right post,1 in,b0 b3,post
low bar,1 in,a1 b1,rail
middle bar,1 in,a2 b2,rail
top bar,1 in,a3 b3,rail
left leg,1 in,e0 e1,brace
right leg,1 in,f0 f1,brace
hook bar,1 in,e2 e3,rail""",
    "coverings": "",
}
STAND = {
    "joints": """joint,x_m,y_m,z_m
p0,0,0,0
p1,0,0,0.8
p2,0.5,0,0.8
p3,0.5,0,0
q0,0,0.7,0
q1,0,0.7,0.8
q2,0.5,0.7,0.8
q3,0.5,0.7,0
r1,0,0,0.35
r2,0,0.7,0.35
s1,0.5,0,0.35
s2,0.5,0.7,0.35""",
    "runs": """run,member,path,bend_radius_m,role,also
front hoop,3/4 in,p0 p1 p2 p3,0.115,hoop,r1 s1
back hoop,3/4 in,q0 q1 q2 q3,0.115,hoop,r2 s2
left bar,3/4 in,r1 r2,none,rail,none
right bar,3/4 in,s1 s2,none,rail,none""",
    "coverings": "",
}
EXAMPLES: Mapping[str, Mapping[str, Any]] = {
    "Screen beside the bench, with sweet peas (by the gate, invented)": {},
    "Potting bench of tube (greenhouse yard, invented)": {**BENCH, "load_kg": 25.0},
    "Tool rack with two back legs (tool shed, invented)": RACK,
    "Bicycle stand of two bent hoops (gate, invented)": STAND,
}
