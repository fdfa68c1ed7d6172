"""The nursery as a program; its argument is the number of the socket on which files come."""

import socket
import sys

from openings.schedules.apart.nursery import main

main(socket.socket(fileno=int(sys.argv[1])))
