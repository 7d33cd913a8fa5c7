#!/usr/bin/python3
"""A Modbus device for the poller's tests: pymodbus on 127.0.0.1 or on a pair of pseudo-terminals.

Prints "ready ADDRESS" once it can be asked. Every request's unit and function code go to the log as they come over the
wire, so that a test can see that nothing but reading was asked for. How it answers depends on the unit:

  1, 2  as they should            5  half of the answer, then nothing     8  "busy", always
  3     too late (--late)         6  noise before and instead of it       9  "busy" every first time
  4     never                     7  as another unit                     10  another number of registers than asked
"""

import argparse
import asyncio
import os
import socket
import struct
import time
import tty

from pymodbus.datastore import ModbusServerContext, ModbusSlaveContext, ModbusSparseDataBlock
from pymodbus.pdu import ExceptionResponse
from pymodbus.server.async_io import (
    ModbusConnectedRequestHandler,
    ModbusSerialServer,
    ModbusSingleRequestHandler,
    ModbusTcpServer,
)
from pymodbus.transaction import ModbusRtuFramer

UNITS = range(1, 11)


def words(packed):
    return list(struct.unpack(f">{len(packed) // 2}H", packed))


def swapped(packed):
    """Low byte first within each register."""
    return b"".join(packed[i + 1 : i + 2] + packed[i : i + 1] for i in range(0, len(packed), 2))


def holding():
    number = struct.pack(">f", 123456.0)
    low_word_first = number[2:] + number[:2]
    return (
        [1234]  # 0 u16
        + words(struct.pack(">h", -200))  # 1 i16
        + words(number)  # 2 f32, ABCD
        + words(low_word_first)  # 4 f32, CDAB
        + words(swapped(number))  # 6 f32, BADC
        + words(swapped(low_word_first))  # 8 f32, DCBA
        + words(struct.pack(">I", 123456))  # 10 u32
        + words(struct.pack(">i", -123456))  # 12 i32
        + words(struct.pack(">q", -1234567890123))  # 14 i64
        + words(struct.pack(">Q", 9876543210))  # 18 u64
        + words(struct.pack(">d", 55.5))  # 22 f64
        + [0b1010]  # 26 bits
        + words(struct.pack(">f", float("nan")))  # 27 f32
        + [9999]  # 29 u16, no temperature
    )


def slave(unit):
    block = dict(enumerate(holding()))
    block[0] += unit - 1
    block[38] = 77  # 30 to 37 are not there
    block.update({100 + i: i for i in range(300)})
    return ModbusSlaveContext(
        hr=ModbusSparseDataBlock(block),
        ir=ModbusSparseDataBlock({0: 321, 1: 0xFFFF}),
        co=ModbusSparseDataBlock({i: i % 3 == 0 for i in range(40)}),
        di=ModbusSparseDataBlock({i: i % 2 == 1 for i in range(40)}),
        zero_mode=True,
    )


class Peer:
    def __init__(self, options):
        self.options = options
        self.log = open(options.log, "a", buffering=1, encoding="utf-8")
        self.asked = 0
        self.framer = None  # of the latest conversation

    def note(self, frame, unit_at):
        self.log.write(f"{frame[unit_at]} {frame[unit_at + 1]} {frame.hex()}\n")

    def seen_tcp(self, data):
        while len(data) >= 8:
            end = 6 + int.from_bytes(data[4:6], "big")
            self.note(data[:end], 6)
            data = data[end:]

    def seen_rtu(self, data):
        """A reading request has 8 bytes; whatever has not shows as a unit or function that nobody asked for."""
        self.rest = getattr(self, "rest", b"") + data
        while len(self.rest) >= 8:
            self.note(self.rest[:8], 0)
            self.rest = self.rest[8:]

    def answer(self, response):
        """What pymodbus would send, spoilt: a message, or bytes and True."""
        unit = response.unit_id
        self.asked += 1
        if unit == 3:
            time.sleep(self.options.late)
        if unit == 4:
            response.should_respond = False
        if unit == 8 or (unit == 9 and self.asked % 2 == 1):
            busy = ExceptionResponse(response.function_code, 6)
            busy.transaction_id, busy.unit_id = response.transaction_id, unit
            return busy, False
        if unit in (5, 6, 7, 10):
            return self.spoilt(response, unit), True
        return response, False

    def spoilt(self, response, unit):
        if unit == 7:
            response.unit_id = 2
        if unit == 10:
            response.registers = response.registers + [1, 2, 3]
        packet = self.framer.buildPacket(response)
        if unit == 5:
            return packet[: len(packet) // 2]
        return bytes(range(7, 77)) if unit == 6 else packet


def handler_of(base, peer, seen):
    class Handler(base):
        def connection_made(self, transport):
            super().connection_made(transport)
            peer.framer = self.framer

        def data_received(self, data):
            seen(data)
            super().data_received(data)

    return Handler


async def pump(source, target):
    """Carries what comes out of one pseudo-terminal into the other."""
    loop = asyncio.get_running_loop()

    def carry():
        try:
            os.write(target, os.read(source, 4096))
        except OSError:
            loop.remove_reader(source)

    loop.add_reader(source, carry)


async def on_serial_line(peer, context):
    # The one end stays open here, so that the line does not hang up when the poller comes and goes.
    near, near_name = os.openpty()
    far, far_name = os.openpty()
    for end in (near_name, far_name):
        tty.setraw(end)
    await pump(near, far)
    await pump(far, near)
    server = ModbusSerialServer(
        context,
        framer=ModbusRtuFramer,
        port=os.ttyname(far_name),
        baudrate=9600,
        ignore_missing_slaves=True,
        handler=handler_of(ModbusSingleRequestHandler, peer, peer.seen_rtu),
        response_manipulator=peer.answer,
    )
    await server.start()
    print("ready", os.ttyname(near_name), flush=True)
    await server.serve_forever()


async def on_network(peer, context, port):
    if port == 0:
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            port = probe.getsockname()[1]
    server = ModbusTcpServer(
        context,
        address=("127.0.0.1", port),
        allow_reuse_address=True,
        ignore_missing_slaves=False,
        handler=handler_of(ModbusConnectedRequestHandler, peer, peer.seen_tcp),
        response_manipulator=peer.answer,
    )
    ready = asyncio.create_task(server.serve_forever())
    await server.serving
    print(f"ready 127.0.0.1:{port}", flush=True)
    await ready


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--log", required=True)
    arguments.add_argument("--port", type=int, default=0)
    arguments.add_argument("--serial", action="store_true")
    arguments.add_argument("--late", type=float, default=1.0)
    options = arguments.parse_args()
    peer = Peer(options)
    context = ModbusServerContext(slaves={unit: slave(unit) for unit in UNITS}, single=False)
    asyncio.run(on_serial_line(peer, context) if options.serial else on_network(peer, context, options.port))


if __name__ == "__main__":
    main()
